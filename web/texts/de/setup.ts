export const setup = {
  why: 'Warum?',
  whyOf: 'Warum: {label}',
  wait: 'In Arbeit …',
  faulty: 'Noch zu berichtigen:',
  use: 'Übernehmen',
  useFigure: '{figure} übernehmen',
  used: 'Ins Formular übernommen.',
  more: 'Buchstaben als Marken, Schieber und Gänge, Sensor an anderer Welle',
  bag: 'Wo aufgefangen wird',
  past: {
    drills: 'Eine schon benutzte Drillmaschine',
    seeds: 'Schon benutztes Saatgut',
    lots: 'Eine schon benutzte Partie',
    all: 'Alle {count, number} zeigen',
  },
  fields: {
    scaleMarks: {
      label: 'Marken, falls Buchstaben',
      help: 'Der Reihe nach von der niedrigsten an, mit Kommas dazwischen: A, B, C. Leer lassen, wo es Zahlen sind.',
    },
    shaftRatio: {
      label: 'Umdrehungen der Sensorwelle je Radumdrehung',
      help: 'Leer lassen, wo der Sensor am Antriebsrad sitzt.',
    },
    establishment: {
      label: 'Pflanzen aus lebenden Samen',
      help: 'Von hundert lebenden Samen werden auf diesem Feld so viele zu Pflanzen.',
    },
    targetUnit: { label: 'Angegeben in', help: '' },
  },
  unitOwn: 'In jeder Einheit: auch eingefügtes „350 Körner/m²“ wird verstanden.',
  units: {
    'kg/ha': 'kg/ha',
    'lb/ac': 'lb/ac',
    'st/ac': 'st/ac',
    'kg/ha live seed': 'kg/ha lebende Saat',
    'lb/ac live seed': 'lb/ac lebende Saat',
    'US bu/ac': 'US-bu/ac',
    'imperial bu/ac': 'britische bu/ac',
    'live seeds/m²': 'lebende Samen/m²',
    'live seeds/ha': 'lebende Samen/ha',
    'live seeds/ft²': 'lebende Samen/ft²',
    'live seeds/ac': 'lebende Samen/ac',
    'live seeds/m of row': 'lebende Samen/m Reihe',
    'live seeds/ft of row': 'lebende Samen/ft Reihe',
    'plants/m²': 'Pflanzen/m²',
    'plants/ha': 'Pflanzen/ha',
    'plants/ft²': 'Pflanzen/ft²',
    'plants/yd²': 'Pflanzen/yd²',
    'plants/ac': 'Pflanzen/ac',
    'plants/m of row': 'Pflanzen/m Reihe',
    'plants/ft of row': 'Pflanzen/ft Reihe',
  },
  ranks: {
    title: 'Schare in versetzten Balken?',
    within: 'Abstand in einem Balken',
    ranks: 'Anzahl der Balken',
    gives: 'Von Reihe zu Reihe: {spacing}',
  },
  wheel: {
    title: 'Das Rad messen',
    way: 'Wie gemessen wird',
    ways: { tape: 'Maßband um den Reifen', 'roll-out': 'Abgerollt', field: 'Auf dem Feld gezählt' },
    readings: 'Ablesungen des Maßbands',
    readingsHelp:
      'Eine oder mehrere, mit Leerzeichen dazwischen. Mehrere zeigen, wie gut das Band wiederholt.',
    rolled: 'Abgerollter Weg',
    rolledHelp:
      'Maschine abgesenkt und gefüllt wie bei der Arbeit, auf festem Boden. Mehrere Wege: mit Leerzeichen dazwischen.',
    turns: 'Abgerollte Umdrehungen',
    distance: 'Gefahrener Weg',
    counts: 'Gezählte Umdrehungen',
    countsHelp: 'Maschine bei der Arbeit auf dem Feld. Mehrere Fahrten: mit Leerzeichen dazwischen.',
    gives: '{length} je Umdrehung, auf {doubt} genau (eine Standardunsicherheit)',
    holdsSlip: 'Der Schlupf steckt schon darin: im Formular wird er zu 0 %.',
  },
  gears: {
    title: 'Verhältnis aus Zahnrädern ermitteln',
    pairs: 'Zähne, treibend : getrieben',
    help: 'Jedes Paar vom Antriebsrad bis zur Sensorwelle, mit Kommas dazwischen: 36:18, 20:40.',
    gives: '{ratio} Umdrehungen der Welle je Radumdrehung',
    wrong:
      'Paare ganzer Zähnezahlen schreiben, etwa 36:18. Zusammen müssen sie 0,01 bis 100 Umdrehungen ergeben.',
    pulses:
      'Der Prüfstand zählt {pulses} Impulse je Umdrehung seines Sensors: {whole} je Umdrehung des Antriebsrads.',
  },
  seed: {
    find: 'Art suchen',
    findHelp:
      'Deutsche Namen kennt die Tabelle nicht: lateinisch oder englisch. Die veröffentlichte Tausendkornmasse füllt das Feld; eigenes Zählen ist besser.',
    findMore: 'Der Mischung eine Art hinzufügen',
    none: 'Keine Art dieses Namens. Die Tausendkornmasse selbst eintragen.',
    found: '{shown, number} von {total, number} gezeigt. Mehr Buchstaben grenzen ein.',
    range: '{low} bis {high} g',
    published: 'Veröffentlicht für {name}: {low} bis {high} g je tausend, Mitte {typical} g.',
    publishedDensity:
      'Veröffentlichte Schüttdichte: {low} bis {high} {unit}. Ein Handelswert oder der einer anderen Partie, gut für Tank und Nachfüllen.',
    printed: '{figure} in {source}',
    basis: 'Anteile sind angegeben',
    bases: {
      mass: 'nach Masse',
      'live-seeds': 'nach Zahl lebender Samen',
      'full-stand': 'in % eines vollen Bestands',
    },
    part: 'Art {number, number}',
    name: 'Name der Partie',
    share: 'Anteil',
    fullRate: 'Allein gesät',
    fullRateHelp: 'Lebende Saat für einen vollen Bestand dieser Art.',
    weight: 'Tausendkornmasse',
    weightHelp: 'Auch eingefügtes „13.000 seeds/lb“ wird verstanden.',
    purity: 'Reinheit',
    germination: 'Keimfähigkeit',
    tag: 'Harte und ruhende Samen, Schüttdichte',
    hard: 'Harte Samen',
    dormant: 'Ruhende Samen',
    density: 'Schüttdichte',
    emptyTag: 'Leer: 100 %.',
    emptyNone: 'Leer: keine.',
    remove: '{name} entfernen',
    gives: 'Das Saatgut ergibt',
    pls: 'Reine lebende Saat',
    mean: 'Mittlere Kornmasse',
    meanOf: '{weight} g je tausend, jedes Korn nach seiner Masse gezählt',
    liveSeeds: 'Lebende Samen je Gramm',
    estimate: 'Schüttdichte, geschätzt',
    massShares: 'Nach Masse',
    fullStand: 'Die Mischung verlangt {rate} aus dem Sack.',
    more: 'Schüttdichte, Streuung der Läufe, Saat außerhalb der Tabelle',
    byHand: 'Saat hinzufügen, die nicht in der Tabelle steht',
    species: '{count, plural, one {# Art} other {# Arten}}',
    fromCount: 'Aus {portions, number} Portionen zu {seeds, number} Samen ausgezählt.',
  },
  count: {
    title: 'Samen auszählen',
    seedsEach: 'Samen je Portion',
    weights: 'Masse jeder Portion',
    weightsHelp: 'Mindestens zwei, üblich sind acht; mit Leerzeichen dazwischen.',
    chaffy: 'Grassamen in Spelzen',
    gives: '{weight} g je tausend, 95 %: {low} bis {high} g',
    stands: 'Die Portionen stimmen überein: sie weichen um {spread} % ab.',
    again:
      'Die Portionen weichen um {spread} % ab, mehr als {limit} %: noch einmal so viele zählen, bevor man dem Wert traut.',
    few: 'Mindestens zwei Portionen wiegen.',
  },
  density: {
    title: 'Schüttdichte messen',
    volume: 'Inhalt des Maßes',
    mass: 'Saat darin',
    gives: '{density}',
    how: 'Saat ohne Rütteln einlaufen lassen, glatt abstreichen, wiegen. Mittel aus drei Füllungen nehmen.',
  },
  target: {
    means: 'Das bedeutet',
    bulk: 'Aus dem Sack',
    live: 'Reine lebende Saat',
    number: 'Lebende Samen',
    perArea: '{count} je {unit}',
    plants: 'Erwartete Pflanzen',
  },
  turns: {
    enough:
      '{turns, plural, one {# Umdrehung genügt} other {# Umdrehungen genügen}}, um in {confidence} von 100 Läufen auf {tolerance} % genau zu sein.',
    never:
      'Keine Zahl von Umdrehungen macht einen Lauf auf {tolerance} % sicher: die Läufe selbst weichen zu sehr ab. Den Lauf wiederholen oder mehr zulassen.',
    binds: {
      scale: 'Die Waage entscheidet: eine feinere oder mehr aufgefangene Reihen kämen mit weniger aus.',
      counting: 'Das Zählen entscheidet: mit mehr Magneten am Rad genügten weniger.',
      'seed-sampling':
        'Das Saatgut entscheidet: es fallen so wenige Samen, dass der Zufall sichtbar wird. Mit mehr aufgefangenen Reihen genügten weniger.',
      fixed: 'Die Wiederholbarkeit der Läufe entscheidet: mehr Umdrehungen helfen wenig, mehr Läufe schon.',
    },
    planned: 'Die geplanten {turns} Umdrehungen: auf {half} % genau.',
    short: 'Das ist weiter als die Toleranz.',
    alone: 'Umdrehungen, die jedes allein verlangte: Waage {scale}, Zählen {counting}, Saatgut {seed}.',
    lengths: 'Oder eine übliche Länge',
    choose: 'Wählen …',
    length: '{name}: {turns, plural, one {# Umdrehung} other {# Umdrehungen}}',
  },
  noPlace:
    'Diese Einstellung hat keinen Platz auf der Skala: Läufe mit ihr können nicht sagen, welche als nächste kommt.',
  reasons: {
    rowSpacing:
      'Jede Reihe steht für einen Streifen, so breit wie der Abstand zur Nachbarreihe. Ein Millimeter bei 15 cm ändert die Aussaatmenge um 0,7 %.',
    rowSpacingFrom:
      'Er kam aus {within} in einem Balken, {ranks, plural, one {# Balken} other {# Balken}}: Abstand im Balken ÷ Zahl der Balken.',
    circumference:
      'Umdrehungen × Umfang ist der Weg, den die Maschine gegangen wäre. Der Rollweg eines belasteten Reifens ist kürzer als sein Bandmaß.',
    circumferenceFrom: {
      tape: 'Er kam aus {count, plural, one {# Ablesung} other {# Ablesungen}} des Maßbands: ihr Mittel; ein belasteter Reifen kann um 2 % abweichen.',
      'roll-out': 'Er kam aus {turns} abgerollten Umdrehungen: Weg ÷ Umdrehungen.',
      field:
        'Er kam aus gezählten Umdrehungen auf {distance} im Feld: Weg ÷ Umdrehungen, Schlupf eingeschlossen.',
    },
    slip: 'Auf dem Feld rutscht das Rad und dreht weniger, als der Weg verlangt. Weg = Umdrehungen × Umfang ÷ (1 − Schlupf).',
    rowsCaught:
      'Das Aufgefangene wird durch den Streifen aller aufgefangenen Reihen geteilt. Mehr Reihen, mehr Samen, weniger Zufall.',
    scaleStep:
      'Mit der Skala nennt Catchbench die nächste Marke, und nie eine, die sich nicht einstellen lässt.',
    shaftRatio:
      'Impulse je Umdrehung des Antriebsrads = Impulse je Umdrehung der Sensorwelle × dieses Verhältnis.',
    thousandSeedWeight:
      'Von schweren Samen sind wenige in einem Gramm, und wenige streuen mehr. Sie macht auch aus Zahlen von Samen eine Menge.',
    bulkDensity:
      'Dosierer bewegen Volumen: Saat anderer Dichte braucht eine andere Einstellung. Auch Tank und Nachfüllen hängen daran.',
    repeatability:
      'Was von Lauf zu Lauf abweicht, über den Zufall einzelner Samen hinaus. Oft 1 bis 2 %; die eigenen Läufe werden es zeigen.',
    targetRate:
      'Gewünschte Samen × Masse eines Samens ÷ (Reinheit × lebender Anteil) ist die Menge aus dem Sack; Pflanzen werden zuvor durch ihren Anteil an den lebenden Samen geteilt.',
    tolerance:
      'Das Band um die gewünschte Menge, das als richtig gilt. Wo der Zufall einzelner Samen entscheidet, braucht das halbe Band die vierfachen Umdrehungen.',
    confidence:
      'Das Prüfen endet, wenn die wahre Menge mit dieser Wahrscheinlichkeit im Band liegt, nicht wenn ein Lauf sie trifft.',
    turns:
      'Unsicherheiten von Waage, Zählen und Saatgut schwinden mit den Umdrehungen; zusammen müssen sie in die Toleranz passen.',
    gives:
      'Zielmenge im Beutel = Aussaatmenge × Umdrehungen × Umfang ÷ (1 − Schlupf) × Reihenabstand × aufgefangene Reihen.',
  },
  sketches: {
    ranks: {
      title: 'Versetzte Balken, von oben',
      text: 'Zwei Balken mit Scharen, die hinteren zwischen den vorderen. Das weite Maß geht von Schar zu Schar in einem Balken, das enge von Reihe zu Reihe am Boden.',
      within: 'im Balken',
      rows: 'Reihe zu Reihe',
    },
    tape: {
      title: 'Maßband um die Mitte der Lauffläche',
      text: 'Ein Rad von der Seite mit einem Maßband, einmal um die Lauffläche gelegt. Last und Druck wie bei der Arbeit.',
      tape: 'Maßband',
    },
    roll: {
      title: 'Abrollen: anzeichnen, ganze Umdrehungen rollen, messen',
      text: 'Ein Rad mit einem Zeichen am untersten Punkt des Reifens; ein zweiter Kreidestrich am Boden, wo das Zeichen nach mehreren Umdrehungen wieder unten ist. Gemessen wird der Abstand beider.',
      start: 'Zeichen unten',
      end: 'wieder unten',
      way: 'Weg',
    },
    bag: {
      title: 'Beutel unter dem Saatrohr',
      text: 'Ein Dosierer mit einem Saatrohr darunter. Unter dem Rohr hängt ein Beutel an einer Wägezelle und berührt weder Rohr noch Rahmen.',
      tube: 'Saatrohr',
      cell: 'Wägezelle',
      bag: 'Beutel, frei hängend',
    },
    sensor: {
      title: 'Sensor am Rad oder an einer Welle hinter Zahnrädern',
      text: 'Magnete am Antriebsrad gehen an einem festen Sensor vorbei. Wo der Sensor eine andere Welle zählt, führen Zahnräder oder eine Kette vom Rad dorthin.',
      magnet: 'Magnet',
      sensor: 'Sensor',
      shaft: 'andere Welle',
    },
    count: {
      title: 'Samen ausgezählt, jede Portion für sich gewogen',
      text: 'Mehrere Häufchen gleich vieler Samen neben einer Waage; jedes wird für sich gewogen.',
      portion: 'gleich viele in jeder',
      weigh: 'Waage',
    },
    measure: {
      title: 'Maß gefüllt und abgestrichen',
      text: 'Ein Gefäß bekannten Inhalts voll Saat, mit einer geraden Kante abgestrichen, nicht gerüttelt.',
      level: 'abgestrichen',
      volume: 'Inhalt bekannt',
    },
  },
  errors: {
    'too-few-marks': 'Mindestens zwei Marken schreiben, mit Kommas dazwischen: A, B, C.',
    'no-such-mark': 'Die Skala hat die Marken {marks}. Eine davon schreiben.',
    'more-than-rows':
      'Die Drillmaschine hat {rows, plural, one {# Reihe} other {# Reihen}}: mehr lassen sich nicht auffangen.',
    parts: 'Beim Saatgut fehlt etwas; es ist dort gekennzeichnet.',
    shares: 'Die Anteile ergeben {percent} % statt 100 %.',
    'too-thick':
      'Die Anteile ergeben {percent} % eines vollen Bestands: mehr als zwei Bestände auf einem Feld.',
    tag: 'Keimfähigkeit, harte und ruhende Samen ergeben {percent} %. Ein Etikett kann harte Samen schon mitzählen: dann ist hart 0.',
    'nothing-alive':
      'Kein Samen davon lebt: keine Menge gibt einen Bestand. Die Keimfähigkeit noch einmal ansehen.',
    'needs-seed':
      'Eine Zahl von Samen oder Pflanzen braucht die Kornmasse: oben die Art suchen oder von Hand hinzufügen.',
    'needs-density': 'Ein Bushel allein ist keine Masse: oben die Schüttdichte eintragen.',
    'needs-establishment':
      'Für Pflanzen muss bekannt sein, wie viele lebende Samen auflaufen: zum Beispiel 70 %.',
  },
} as const;
