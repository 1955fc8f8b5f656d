export const live = {
  stopKeys: 'Esc oder Leertaste',
  catch: 'Aufgefangen',
  targetCatch: 'Sollmenge',
  grams: 'g',
  target: 'Soll {grams} g',
  right: 'richtig von {low} bis {high} g',
  turns: 'Umdrehungen',
  ofTurns: 'von {preset}',
  toGo: 'noch',
  allTurned: 'Alle gedreht',
  backward: '{turns} Umdrehungen rückwärts',
  rate: 'Aussaatmenge',
  interval: '95 %: {low} bis {high}',
  noRate: 'Kommt mit den ersten Umdrehungen',
  rateBand: 'gewünscht {low} bis {high} {unit}',
  speed: 'Drehzahl des Rads',
  perMinute: 'Umdrehungen je Minute',
  stands: 'entspricht {speed}',
  planned: 'geplant {speed}',
  targetRange: 'Soll {grams} ({low} bis {high} g)',
  forecast: 'endet bei {grams} ± {half} g',
  speedNow: { slow: '▼ zu langsam', fast: '▲ zu schnell' },
  kept: 'zu {percent, number} % gehalten',
  shareOnPlan: '{percent, number} % der Umdrehungen mit der geplanten Geschwindigkeit',
  chart: 'Aufgefangen über Umdrehungen',
  chartNow: 'Kurve der aufgefangenen Menge über den Umdrehungen. Zuletzt: {grams} g bei {turns} Umdrehungen.',
  chartEmpty: 'Kurve der aufgefangenen Menge über den Umdrehungen. Noch nichts aufgefangen.',
  chartBand: 'in der Toleranz',
  gramsAxis: 'Gramm',
  motorOn: 'Motor an',
  motorOff: 'Motor aus',
  lost: '{count, plural, one {# Messwert ging verloren; die Summen gleichen es aus.} other {# Messwerte gingen verloren; die Summen gleichen es aus.}}',
  none: '–',
} as const;

export const throwAway = {
  ask: 'Diesen Lauf verwerfen? Er bleibt gespeichert, mit diesem Vermerk.',
  yes: 'Ja, verwerfen',
  no: 'Behalten',
} as const;

export const caution = {
  title: 'Bevor sich das Rad dreht',
  motor: [
    'Drillmaschine auf Stützen, andere Räder mit Keilen gesichert, Antrieb und Gelenkwelle gesichert.',
    'Niemand nahe an Rad, Ketten oder Säwellen; keine lose Kleidung.',
    'Der verdrahtete Stopptaster am Prüfstand ist die Sicherheitseinrichtung. Diese Seite ist es nicht: Eine Seite kann hängen.',
  ],
  hand: [
    'Drillmaschine auf Stützen, andere Räder mit Keilen gesichert.',
    'Finger weg von Ketten, Zahnrädern und Säwellen.',
  ],
  more: 'Die Anleitung der Drillmaschine und die Regeln am Arbeitsplatz befolgen. Gebeiztes Saatgut: das Etikett beachten.',
} as const;

export const result = {
  title: 'Ergebnis',
  titleAt: 'Ergebnis bei Einstellung {setting}',
  doubt: 'Woher die Unsicherheit kommt',
  doubtIntro:
    'Was jeder Anteil für sich offen ließe, als Anteil der Aussaatmenge (eine Standardunsicherheit). Beim größten lohnt sich Sorgfalt.',
  common: 'gleich in jedem Lauf an dieser Drillmaschine',
  largest: 'der größte',
  parts: {
    weighing: 'Wiegen',
    scale: 'Die Waage selbst',
    turns: 'Zählen der Umdrehungen',
    circumference: 'Radumfang',
    'row-spacing': 'Reihenabstand',
    slip: 'Radschlupf',
    'seed-sampling': 'Saatgut fällt in Schüben',
    repeatability: 'Von Lauf zu Lauf',
  },
  percent: '{share} %',
  caught: '{grams} g in {turns} Umdrehungen',
} as const;

export const strip = {
  title: 'Vorgaben',
  next: 'Nächster Lauf',
  now: 'Dieser Lauf',
  was: 'Vorgaben dieses Laufs',
  setting: 'Einstellung {setting}',
  noSetting: 'keine Einstellung vermerkt',
  turns: { motor: '{turns} Umdrehungen mit Motor', hand: '{turns} Umdrehungen von Hand' },
  target: '{rate} ± {tolerance} %',
  change: 'Vorgaben ändern',
} as const;

export const runs = {
  title: 'Bisherige Läufe',
  none: 'Noch keine Läufe.',
  loading: 'Das Archiv wird gelesen …',
  columns: {
    when: 'Wann',
    setting: 'Einstellung',
    caught: 'Aufgefangen',
    rate: 'Aussaatmenge',
    outcome: 'Ausgang',
  },
  demo: 'Demo',
  open: 'Lauf vom {when}',
  back: 'Alle Läufe',
  missing: 'Dieser Lauf ist nicht gespeichert.',
  unclosed: 'nicht abgeschlossen',
} as const;
