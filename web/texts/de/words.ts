export const phases = {
  idle: 'In Ruhe',
  taring: 'Tarieren',
  ready: 'Bereit',
  turning: 'Es dreht',
  settling: 'Beruhigen',
  finished: 'Beendet',
} as const;

export const outcomes = {
  complete: 'Fertig',
  stopped: 'Angehalten',
  'stop-button': 'Stopptaster',
  'host-silent': 'Von der Platine angehalten',
  reversed: 'Rückwärts gedreht',
  stalled: 'Rad blockiert',
  expired: 'Nicht rechtzeitig gestartet',
  refused: 'Abgelehnt',
  'link-lost': 'Prüfstand verloren',
  'board-reset': 'Platine neu gestartet',
  aborted: 'Verworfen',
  interrupted: 'Unterbrochen',
} as const;

export const conditions = {
  searching: 'Kein Prüfstand',
  opening: 'Wird geöffnet',
  asking: 'Fragt, wer da ist',
  connected: 'Prüfstand verbunden',
  silent: 'Prüfstand schweigt',
  lost: 'Prüfstand verloren',
  'wrong-device': 'Kein Prüfstand',
  'wrong-version': 'Falsche Version',
} as const;

export const acts = { arm: 'Bereit machen', start: 'Starten', stop: 'Stopp', abort: 'Verwerfen' } as const;

export const hints = {
  'no-page': 'Catchbench meldet sich nicht. Wenn sich etwas dreht, den Stopptaster am Prüfstand drücken.',
  connect: 'Jetzt: den Prüfstand verbinden.',
  'save-plan':
    'Jetzt: die Vorgaben speichern. Sie enthalten Änderungen, die ein Lauf noch nicht nutzen würde.',
  arm: 'Jetzt: den leeren Beutel einhängen, dann bereit machen. Der Prüfstand tariert selbst.',
  'arm-again': 'Jetzt: den Beutel leeren, falls nötig anders einstellen, dann wieder bereit machen.',
  'use-setting':
    'Jetzt: die Einstellung von oben übernehmen, den Hebel stellen, den Beutel leeren. Oder so noch einmal bereit machen.',
  taring: 'Warten: Es wird tariert. Den Beutel in Ruhe lassen.',
  'start-motor': 'Jetzt: Sind alle vom Rad weg? Dann starten.',
  'start-hand': 'Jetzt: starten, dann das Rad drehen.',
  'turning-motor': 'Der Prüfstand hält bei der Zahl der Umdrehungen selbst an.',
  'turning-hand':
    'Gleichmäßig weiterdrehen. Die Lampe blinkt vor der letzten Umdrehung und bleibt am Ende an.',
  'no-stand': 'Der Prüfstand antwortet nicht. Wenn sich das Rad dreht, den Stopptaster daran drücken.',
  settling: 'Warten: Die letzten Körner fallen, der Beutel kommt zur Ruhe. Nicht anfassen.',
} as const;

export const verdicts = {
  right: 'Die Einstellung stimmt: Der ganze 95-%-Bereich liegt in der Toleranz.',
  high: 'Zu viel Saatgut: die Drillmaschine auf weniger stellen.',
  low: 'Zu wenig Saatgut: die Drillmaschine auf mehr stellen.',
  open: 'Nicht zu entscheiden: Die Unsicherheit reicht über den Rand der Toleranz. Mehr Umdrehungen oder ein weiterer Lauf würden es zeigen.',
} as const;

export const verdictWords = {
  right: 'In der Toleranz',
  high: 'Zu viel',
  low: 'Zu wenig',
  open: 'Unentschieden',
} as const;
