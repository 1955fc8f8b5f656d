export const setting = {
  reading: 'Die Abdrehprobe wird gelesen …',
  of: 'Abdrehprobe von',
  heads: {
    'no-advice': 'Noch kein Rat',
    'first-run': 'Einen ersten Lauf machen',
    set: 'Nächste Einstellung',
    done: 'Fertig: lassen auf',
    settle: 'Besser wird es nicht als bei',
    'out-of-reach': 'Die Skala reicht nicht',
  },
  use: 'Einstellung {mark} übernehmen',
  planned: 'In den Vorgaben steht {mark}. Den Hebel auf {mark} stellen, dann bereit machen.',
  plannedStays: 'In den Vorgaben steht {mark}. Den Hebel dort lassen und den nächsten Lauf bereit machen.',
  plannedDone: 'In den Vorgaben steht {mark}. Mehr ist nicht zu prüfen.',
  expected: 'erwartet {rate} (95 %: {low} bis {high})',
  between: 'zwischen {low} und {high}',
  fillIn: 'Skala ausfüllen',
  toPlan: 'Zu den Vorgaben',
  toSetting: 'Warum, und alle Läufe',
  toSheet: 'Das Protokoll zum Mitgeben',
  working: 'Wird berechnet, wie es weitergeht …',

  stop: {
    title: 'Kann das Prüfen enden?',
    none: 'Vor dem ersten Lauf ist nichts zu beurteilen.',
    chance: 'Chance, dass die wahre Menge stimmt',
    wanted: 'gewünscht {share} %',
    at: 'bei Einstellung {mark}',
    more: 'Wahrscheinlich noch {runs, plural, one {# Lauf} other {# Läufe}}.',
    moreTurns:
      'Wahrscheinlich noch {runs, plural, one {# Lauf} other {# Läufe}}, zusammen {turns, number} Umdrehungen.',
    noMore: 'Auch beliebig viele weitere Läufe gäben die gewünschte Sicherheit nicht.',
    limits: {
      noise: 'Die Läufe unterscheiden sich zu sehr: mehr Umdrehungen je Lauf, oder die Ursache suchen.',
      step: 'Die Marken der Skala liegen für diese Toleranz zu weit auseinander.',
      'lever-play': 'Der Hebel steht nicht jedes Mal gleich.',
      rows: 'Die Reihen der Drillmaschine unterscheiden sich zu sehr voneinander.',
      common: 'Radumfang, Reihenabstand oder Schlupf sind nicht genau genug bekannt.',
    },
    inTheWay: 'Im Weg steht:',
    lucky: 'Warum ein Treffer nicht genügt:',
  },

  curve: {
    title: 'Aussaatmenge über Einstellung',
    axis: 'Einstellung',
    label:
      'Kurve der Aussaatmenge über der Einstellung, mit {runs, plural, one {# Lauf} other {# Läufen}}. Dieselben Werte stehen in den Tabellen der Läufe und der Marken.',
    labelNext:
      'Kurve der Aussaatmenge über der Einstellung, mit {runs, plural, one {# Lauf} other {# Läufen}}; nächste Einstellung {next}. Dieselben Werte stehen in den Tabellen der Läufe und der Marken.',
    stand: 'Prüfstand',
    hand: 'von Hand',
    aside: 'hohl: nicht im Modell',
    line: 'Linie und ihr 95-%-Band',
    band: 'Ziel mit Toleranz',
    next: 'nächste Einstellung',
    latest: 'Ziel {rate}',
  },

  runs: {
    title: 'Läufe dieser Abdrehprobe',
    none: 'Noch keine. Läufe am Prüfstand kommen von selbst hierher; einen von Hand gewogenen kann man unten eintippen.',
    columns: {
      name: 'Lauf',
      setting: 'Einstellung',
      caught: 'Aufgefangen',
      rate: 'Aussaatmenge',
      source: 'Gewogen',
      model: 'Im Modell',
      act: '',
    },
    name: 'Lauf {number}',
    sources: { stand: 'am Prüfstand', hand: 'von Hand' },
    counts: 'ja',
    setAside: 'Beiseitelegen',
    setAsideOf: 'Beiseitelegen: {name}',
    bringBack: 'Zurückholen',
    bringBackOf: 'Zurückholen: {name}',
    ask: 'Warum {name} beiseitelegen? Er bleibt gespeichert und kann zurückgeholt werden.',
    reasons: [
      'der Beutel berührte etwas',
      'Saatgut wurde verschüttet',
      'die Umdrehungen wurden falsch gezählt',
      'der Hebel stand nicht, wo es vermerkt ist',
      'der Saatkasten war fast leer',
    ],
    other: 'Oder mit eigenen Worten',
    whyMissing: 'Einen Grund wählen oder einen schreiben.',
    keep: 'Drin lassen',
  },

  hand: {
    title: 'Von Hand gewogen',
    intro:
      'Auch was ein Beutel oder Eimer auffing und irgendeine Waage wog, zählt, mit seiner größeren Unsicherheit.',
    fields: {
      setting: 'Einstellung',
      turns: 'Umdrehungen',
      grams: 'Aufgefangen',
      scaleStep: 'Ziffernschritt der Waage',
    },
    stepHelp: 'Der kleinste Schritt, den ihre Anzeige kennt.',
    byEye: 'Umdrehungen mit dem Auge gezählt',
    byEyeHelp: 'Es kann also eine übersehen sein.',
    add: 'Diesen Lauf hinzufügen',
    added: 'Hinzugefügt.',
  },

  rows: {
    title: 'Stimmen die Reihen überein?',
    intro:
      'Was einige Reihen geben, steht für die Maschine nur so weit, wie ihre Reihen übereinstimmen. Mehrere auffangen, jede über gleich viele Umdrehungen, und eintippen.',
    fields: {
      turns: 'Umdrehungen',
      catches: 'Menge jeder Reihe, der Reihe nach',
      scaleStep: 'Ziffernschritt der Waage',
    },
    catchesHelp: 'Mit Leerzeichen dazwischen: 85,2 88 84,6',
    together: 'Alle bei denselben Umdrehungen aufgefangen',
    compare: 'Vergleichen',
    doubt:
      'Eingerechnet: Die aufgefangenen Reihen können {share} % neben dem Mittel der Maschine liegen (eine Standardunsicherheit).',
  },

  marks: {
    title: 'Einstelltabelle',
    none: 'Kommt mit dem ersten Lauf.',
    columns: { setting: 'Marke', rate: 'Aussaatmenge', interval: '95 %', known: 'Woher' },
    words: {
      measured: 'gemessen',
      inferred: 'erschlossen',
      'out of range': 'außerhalb',
    },
    target: 'dem Ziel am nächsten',
    all: 'Alle {count, number} Marken',
    rounds: 'Welche Einstellung für welche Menge',
    roundColumns: { rate: 'Aussaatmenge', setting: 'Marke', interval: '95 %', known: 'Woher' },
    noMark: 'nicht auf dieser Skala',
  },

  lid: {
    title: 'Tabelle auf dem Deckel der Maschine',
    intro:
      'Zwei oder drei Zeilen der gedruckten Tabelle um die gewünschte Menge geben eine erste Einstellung vor jedem Lauf.',
    setting: 'Einstellung',
    rate: 'Aussaatmenge',
    row: 'Zeile {index, number}',
    density: 'Schüttdichte des Saatguts der Tabelle',
    densityHelp: 'Kann leer bleiben.',
    another: 'Noch eine Zeile',
    keep: 'Diese Zeilen behalten',
    kept: 'Behalten.',
  },

  how: { title: 'Wie das gefunden wurde', interval: '95 %: {low} bis {high}' },
  units: {
    'g/m² per mark': '{rate} je Marke',
    mark: 'Marke {value}',
    runs: '{count, plural, one {# Lauf} other {# Läufe}}',
    turns: '{count} Umdrehungen',
  },
  findings: 'Wissenswert',
  past: 'Geht aus von: {names}.',

  anew: {
    start: 'Neu beginnen',
    ask: 'Diese Abdrehprobe beenden? Ihre Läufe bleiben gespeichert; der nächste Lauf beginnt eine andere.',
    yes: 'Ja, neu beginnen',
    no: 'Mit dieser weitermachen',
  },
} as const;
