export const scale = {
  readsTooMuch:
    '{what} zeigt {grams} zu viel: Ist es das richtige Gewicht, und berührt nichts? Noch einmal wiegen oder weglassen.',
  readsTooLittle:
    '{what} zeigt {grams} zu wenig: Ist es das richtige Gewicht, und berührt nichts? Noch einmal wiegen oder weglassen.',
  noLine:
    'Die Wägungen liegen auf keiner Linie. Eines davon stimmt nicht: {which}. Noch ein Gewicht wiegen, um zu sehen, welches.',
  scatter:
    'Die Wägungen streuen zu weit um eine Linie: am meisten {what}, um {grams}. Nach Losem oder Berührendem sehen, ruhig hängen lassen und neu beginnen.',
  tooLight:
    'Die Gewichte sind für das Rauschen dieser Waage zu leicht: Ihre Steigung bleibt auf {share} unsicher.',
  weighUpTo: 'Bis etwa {grams} wiegen, öfter, oder zuerst die Waage beruhigen.',
  twoNamed: 'Zwei Prüfgewichte heißen {name}: jedem einen Namen geben.',
  onlyOnce: 'Ein Prüfgewicht kann nur einmal zugleich auf der Waage liegen.',
  noneNamed: 'Kein Prüfgewicht heißt {name}.',
  noneNamedHere: 'Kein Prüfgewicht dieser Prüfung heißt {name}.',
  weighEmpty: 'Auch die leere Waage wiegen: ohne Null keine Linie.',
  secondMass:
    'Ein Prüfgewicht und die Null passen immer auf eine Linie, richtig oder falsch: ein zweites, anderes wiegen, besser fünf.',
  countsRise:
    'Die Zählschritte steigen mit der Last: Die Zelle sitzt verkehrt herum, oder zwei ihrer Drähte sind vertauscht. Beheben, oder sagen, dass es so gemeint ist.',
  countsFall:
    'Die Zählschritte fallen mit der Last: Die Zelle sitzt verkehrt herum, oder zwei ihrer Drähte sind vertauscht. Beheben, oder sagen, dass es so gemeint ist.',
  noMore:
    'Mit {more} zeigt die Waage nicht mehr als mit {less}. Prüfen, welches Gewicht welches ist und dass nichts berührt.',
  noClass:
    'Gewichtsklassen gehen nach 1, 2 und 5, von 1 g bis 5 kg: für {grams} stattdessen Masse und Unsicherheit angeben.',
  fewMasses:
    'Nur {count} verschiedene Lasten: fünf zeigen ein falsches Gewicht oder eine Krümmung weit sicherer.',
  noReturn: 'Keine Wägung auf dem Weg nach unten: Ob die Waage zurückkommt, wie sie ging, bleibt unbekannt.',
  spanBelowUse:
    'Es sollen Lasten bis {heaviest} gewogen werden, aber die Gewichte reichen nur bis {span}: darüber ist die Linie geraten.',
  hysteresisMore:
    'Bei {load} zeigt die Waage abwärts {grams} mehr als aufwärts: nach Reibung, berührendem Beutel oder Kabel, loser Schraube sehen.',
  hysteresisLess:
    'Bei {load} zeigt die Waage abwärts {grams} weniger als aufwärts: nach Reibung, berührendem Beutel oder Kabel, loser Schraube sehen.',
  zeroHigher: 'Die leere Waage kam {grams} höher zurück: Sie driftet, kriecht oder klemmt.',
  zeroLower: 'Die leere Waage kam {grams} tiefer zurück: Sie driftet, kriecht oder klemmt.',
  bends:
    'Die Waage ist krumm: Eine Kurve weicht um {grams} von der Linie ab, und die Wägungen streuen nur um {scatter} um sie. Über die Lasten kalibrieren, die gewogen werden.',
  creeps:
    'Bei {load} bewegte sich der Messwert noch um {grams}, während gemittelt wurde: länger warten, oder die Zelle kriecht.',
  oddMuch:
    'Von allen Gewichten passt dieses am schlechtesten zu den anderen: {what}, mit {grams} zu viel. Ist es das richtige?',
  oddLittle:
    'Von allen Gewichten passt dieses am schlechtesten zu den anderen: {what}, mit {grams} zu wenig. Ist es das richtige?',
  slopeNotZero: 'Die Steigung der Waage darf nicht 0 sein.',
  valuesMissing:
    '{share} der Messwerte kamen ohne Inhalt: Stecker der Zelle und Versorgung des Wandlers prüfen.',
  clipped: '{share} der Messwerte sind am Ende des Wandlerbereichs: zu viel Last oder ein gebrochener Draht.',
  slow: '{rate} Messwerte je Sekunde statt {wanted}: Ratenbrücke des Wandlers und Leitung prüfen.',
  gap: '{seconds} lang kam kein Messwert: Kabel zwischen Platine und Rechner prüfen.',
  stuck: 'Alle Messwerte sind gleich: Wandler oder Zelle ist tot, denn ein lebender zittert immer.',
  coarse: 'Die Messwerte nehmen nur wenige Werte an: Der Wandler löst sein eigenes Rauschen nicht auf.',
  noisy:
    'Die Messwerte streuen um {grams} statt {wanted}: nach Erschütterung, Wind, Netzkabel nahe der Zelle sehen.',
  drifts:
    'Die Last driftet um {grams} je Minute: Zelle warm werden lassen, Sonne und Zug fernhalten, nach etwas Rutschendem sehen.',
  driftUnclear: 'Ob die Last driftet, lässt sich noch nicht sagen: ruhen lassen und länger beobachten.',
  silent: 'Kein Messwert kam: Kabel, Anschluss und Versorgung prüfen.',
  tooShort:
    '{count} Messwerte sind zu wenige, um eine Waage zu beurteilen: zehn Sekunden oder länger beobachten.',
  noZeroYet: 'Noch kommt kein Gewicht, um null zu setzen: die Waage eine Sekunde in Ruhe lassen.',
  cells: 'Dieser Prüfstand hat {count} Zellen.',
  fullCheck: 'Diese Prüfung hat so viele Wägungen, wie eine haben darf: behalten oder eine neue beginnen.',
  weighingAlready: 'Es wird schon gewogen.',
  otherStand: 'Diese Prüfung wurde am Prüfstand „{one}“ gemacht, nicht an „{other}“.',
  noWriting: 'Dieser Prüfstand nimmt keine Werte von der Seite an: die Prüfung behalten, ohne zu schreiben.',
  noWeight: 'Die Waage gab kein Gewicht: Stecker der Zelle prüfen, und dass der Prüfstand verbunden ist.',
  noScale: 'Es ist keine Waage da.',
  runUnderWay: 'Auf dieser Waage ist ein Lauf im Gang.',
  noCheck: 'Es ist keine Prüfung der Waage im Gang.',
  sayHowSure: 'Angeben, wie sicher das Gewicht ist, in Gramm: höchstens auf ein Zehntel.',
} as const;

export const scaleParts = {
  theMass: 'das Gewicht {mass}',
  TheMass: 'Das Gewicht {mass}',
  emptyScale: 'die leere Waage',
  EmptyScale: 'Die leere Waage',
  weighing: 'die {ordinal} Wägung ({mass})',
  Weighing: 'Die {ordinal} Wägung ({mass})',
  byGrams: '{what} um {grams}',
  first: 'erste',
  second: 'zweite',
  third: 'dritte',
  fourth: 'vierte',
  fifth: 'fünfte',
  sixth: 'sechste',
  seventh: 'siebte',
  eighth: 'achte',
  ninth: 'neunte',
  laterOrdinal: '{number}.',
  tooLittle: 'zu wenig',
  tooMuch: 'zu viel',
} as const;
