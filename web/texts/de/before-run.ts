export const beforeRun = {
  title: 'Bevor sich das Rad dreht',
  seenTitle: 'Was der Prüfstand selbst sieht',
  askedTitle: 'Was nur Sie sehen können',
  confirm: 'Alles in Ordnung: bereit machen',
  confirmedAt: 'Durchgesehen {when}.',
  againIntro: 'Mit dem Bereitmachen sagen Sie:',
  untilThen: 'Bis diese Liste bestätigt ist, macht „Bereit machen“ am Fuß nichts scharf: es führt hierher.',
  notYet: 'Zuerst die Liste durchsehen, dann bestätigen.',
  software: 'Diese Seite ist keine Sicherheitseinrichtung. Das ist der verdrahtete Stopptaster am Prüfstand.',
  states: { good: 'gut', open: 'noch nicht', wrong: 'nachsehen', unknown: 'kein Prüfstand' },
  seen: {
    link: {
      name: 'Verbindung zum Prüfstand',
      why: 'Ohne sie hält die Platine den Motor an und der Lauf ist verloren.',
      good: 'lebt',
      open: 'noch nicht gehört',
      wrong: 'stumm: Kabel und Versorgung prüfen',
      unknown: 'kein Prüfstand verbunden',
    },
    zero: {
      name: 'Null ruhig',
      why: 'Ein schwingender Beutel oder eine driftende Waage geht geradewegs in die aufgefangene Menge ein.',
      good: 'die Last steht still',
      open: 'die Last bewegt sich noch: Beutel aushängen lassen, Wind und Hände fernhalten',
      wrong: 'die Last kommt nicht zur Ruhe',
      unknown: 'ohne Prüfstand nicht zu sehen',
    },
    scale: {
      name: 'Prüfung der Waage',
      why: 'Jede Aussaatmenge beruht auf der Waage. Ohne gültige Prüfung wird ihre Steigung nur für gut gehalten.',
      good: '{days, plural, =0 {heute gemacht} one {# Tag alt} other {# Tage alt}}',
      open: 'keine gültige: bei Gelegenheit unter Prüfstand machen',
      wrong: 'die letzte hat etwas zu beheben gefunden',
      unknown: 'ohne Prüfstand nicht zu sehen',
    },
    wheel: {
      name: 'Radsensor',
      why: 'Ein verrutschter Magnet oder lockerer Stecker zeigt sich vor dem Lauf, nicht danach.',
      good: 'über {turns} Umdrehungen gesehen, seit der Prüfstand verbunden ist',
      open: '{turns} Umdrehungen gesehen: das Rad einmal von Hand drehen',
      wrong: 'keine Impulse',
      unknown: 'ohne Prüfstand nicht zu sehen',
    },
    'stop-button': {
      name: 'Stopptaster am Prüfstand',
      why: 'Er hält das Rad an, wenn alles andere versagt. Nur ein erprobter Taster ist einer.',
      good: 'heute erprobt, {when}',
      open: 'heute nicht erprobt: einmal drücken und lösen',
      wrong: 'er ist gedrückt oder sein Draht gebrochen: lösen',
      unknown: 'ohne Prüfstand nicht zu sehen',
    },
  },
  asked: {
    'on-stands': {
      name: 'Drillmaschine auf den Böcken, und sie steht fest',
      why: 'Rutscht sie ab, während sich das Rad dreht, zerquetscht sie, wer darunter ist.',
    },
    chocked: {
      name: 'Andere Räder verkeilt',
      why: 'Ein drehendes Rad kann die Maschine von den Böcken wandern lassen.',
    },
    'people-clear': {
      name: 'Niemand nahe Rad, Ketten und Dosierwellen; keine lose Kleidung',
      why: 'Ketten und Wellen fassen Finger und Ärmel.',
    },
    'drive-engaged': {
      name: 'Kupplung und Antrieb der Dosierer eingerückt',
      why: 'Sonst dreht das Rad und nichts fällt.',
    },
    'tubes-clear': {
      name: 'Saatleitungen frei',
      why: 'Eine verstopfte Leitung sieht aus wie eine zu kleine Menge.',
    },
    primed: {
      name: 'Saatgut über allen Dosierern, einige Umdrehungen zum Füllen gemacht',
      why: 'Die ersten Umdrehungen füllen die Zellen und geben zu wenig.',
    },
    'bag-on': {
      name: 'Beutel hängt frei und berührt nichts',
      why: 'Woran der Beutel lehnt, das trägt einen Teil der Menge.',
    },
    'treated-seed': {
      name: 'Gebeiztes Saatgut: Handschuhe und Maske, wie das Etikett sagt',
      why: 'Sein Staub schadet Haut und Lunge. Ungebeiztes Saatgut: nichts zu tun.',
    },
    'bag-emptied': {
      name: 'Beutel geleert und wieder frei aufgehängt',
      why: 'Tariert wird jedes Mal neu.',
    },
  },
} as const;
