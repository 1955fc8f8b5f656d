export const setup = {
  why: 'Pourquoi ?',
  whyOf: 'Pourquoi : {label}',
  wait: 'En cours …',
  faulty: 'À corriger encore :',
  use: 'Reprendre',
  useFigure: 'Reprendre {figure}',
  used: 'Repris dans le formulaire.',
  more: 'Repères en lettres, trappes et rapports, capteur sur un autre arbre',
  bag: 'Où recueillir',
  past: {
    drills: 'Un semoir déjà utilisé',
    seeds: 'Des semences déjà utilisées',
    lots: 'Un lot déjà utilisé',
    all: 'Tout montrer ({count, number})',
  },
  fields: {
    scaleMarks: {
      label: 'Repères, si ce sont des lettres',
      help: 'Dans l’ordre depuis le plus bas, séparés par des virgules : A, B, C. Laisser vide si ce sont des nombres.',
    },
    shaftRatio: {
      label: 'Tours de l’arbre du capteur par tour de roue',
      help: 'Laisser vide si le capteur est sur la roue d’entraînement.',
    },
    establishment: {
      label: 'Plantes par graines vivantes',
      help: 'Sur cent graines vivantes, tant deviennent des plantes dans cette parcelle.',
    },
    targetUnit: { label: 'Exprimée en', help: '' },
  },
  unitOwn: 'Dans toute unité : « 350 graines/m² » collé est compris aussi.',
  units: {
    'kg/ha': 'kg/ha',
    'lb/ac': 'lb/ac',
    'st/ac': 'st/ac',
    'kg/ha live seed': 'kg/ha de semences vivantes',
    'lb/ac live seed': 'lb/ac de semences vivantes',
    'US bu/ac': 'bu/ac (US)',
    'imperial bu/ac': 'bu/ac (impérial)',
    'live seeds/m²': 'graines vivantes/m²',
    'live seeds/ha': 'graines vivantes/ha',
    'live seeds/ft²': 'graines vivantes/ft²',
    'live seeds/ac': 'graines vivantes/ac',
    'live seeds/m of row': 'graines vivantes/m de rang',
    'live seeds/ft of row': 'graines vivantes/ft de rang',
    'plants/m²': 'plantes/m²',
    'plants/ha': 'plantes/ha',
    'plants/ft²': 'plantes/ft²',
    'plants/yd²': 'plantes/yd²',
    'plants/ac': 'plantes/ac',
    'plants/m of row': 'plantes/m de rang',
    'plants/ft of row': 'plantes/ft de rang',
  },
  ranks: {
    title: 'Éléments semeurs en rangées décalées ?',
    within: 'Écartement dans une rangée',
    ranks: 'Nombre de rangées',
    gives: 'D’un rang à l’autre : {spacing}',
  },
  wheel: {
    title: 'Mesurer la roue',
    way: 'Comment on mesure',
    ways: { tape: 'Mètre ruban autour du pneu', 'roll-out': 'Déroulée', field: 'Comptée au champ' },
    readings: 'Lectures du ruban',
    readingsHelp:
      'Une ou plusieurs, séparées par des espaces. Plusieurs montrent comment le ruban se répète.',
    rolled: 'Distance déroulée',
    rolledHelp:
      'Semoir abaissé et rempli comme au travail, sur sol ferme. Plusieurs passages : séparés par des espaces.',
    turns: 'Tours déroulés',
    distance: 'Distance parcourue',
    counts: 'Tours comptés',
    countsHelp: 'Semoir au travail dans la parcelle. Plusieurs passages : séparés par des espaces.',
    gives: '{length} par tour, à {doubt} près (une incertitude type)',
    holdsSlip: 'Le patinage y est déjà : il devient 0 % dans le formulaire.',
  },
  gears: {
    title: 'Calculer le rapport par les dents',
    pairs: 'Dents, menante : menée',
    help: 'Chaque paire de la roue à l’arbre du capteur, séparées par des virgules : 36:18, 20:40.',
    gives: '{ratio} tours de l’arbre par tour de roue',
    wrong:
      'Écrire des paires de nombres entiers de dents, par exemple 36:18. Ensemble elles doivent donner de 0,01 à 100 tours.',
    pulses:
      'Le banc compte {pulses} impulsions par tour de son capteur : {whole} par tour de la roue d’entraînement.',
  },
  seed: {
    find: 'Chercher l’espèce',
    findHelp:
      'Nom latin ou anglais : la table ne connaît pas les noms français. Le poids publié remplit le champ ; votre propre comptage vaut mieux.',
    findMore: 'Ajouter une espèce au mélange',
    none: 'Aucune espèce de ce nom. Écrire soi-même le poids de mille grains.',
    found: '{shown, number} sur {total, number} montrées. D’autres lettres en laissent moins.',
    range: '{low} à {high} g',
    published: 'Publié pour {name} : {low} à {high} g les mille, milieu {typical} g.',
    publishedDensity:
      'Masse volumique publiée : {low} à {high} {unit}. Une valeur de commerce ou d’un autre lot, bonne pour la trémie et les remplissages.',
    printed: '{figure} dans {source}',
    basis: 'Les parts sont données',
    bases: {
      mass: 'en masse',
      'live-seeds': 'en nombre de graines vivantes',
      'full-stand': 'en % d’un peuplement complet',
    },
    part: 'Espèce {number, number}',
    name: 'Nom du lot',
    share: 'Part',
    fullRate: 'Semée seule',
    fullRateHelp: 'Semences vivantes pour un peuplement complet de cette espèce.',
    weight: 'Poids de mille grains',
    weightHelp: '« 13 000 seeds/lb » collé est compris aussi.',
    purity: 'Pureté',
    germination: 'Faculté germinative',
    tag: 'Graines dures et dormantes, masse volumique',
    hard: 'Graines dures',
    dormant: 'Graines dormantes',
    density: 'Masse volumique',
    emptyTag: 'Vide : 100 %.',
    emptyNone: 'Vide : aucune.',
    remove: 'Retirer {name}',
    gives: 'Les semences donnent',
    pls: 'Semences pures vivantes',
    mean: 'Poids moyen du grain',
    meanOf: '{weight} g les mille, chaque grain compté selon sa masse',
    liveSeeds: 'Graines vivantes par gramme',
    estimate: 'Masse volumique, estimée',
    massShares: 'En masse',
    fullStand: 'Le mélange demande {rate} sortis du sac.',
    more: 'Masse volumique, écart entre essais, semences hors table',
    byHand: 'Ajouter des semences hors table',
    species: '{count, plural, one {# espèce} other {# espèces}}',
    fromCount: 'De {portions, number} portions de {seeds, number} graines comptées.',
  },
  count: {
    title: 'Compter des graines',
    seedsEach: 'Graines par portion',
    weights: 'Poids de chaque portion',
    weightsHelp: 'Deux au moins, huit d’ordinaire ; séparés par des espaces.',
    chaffy: 'Graines de graminées vêtues',
    gives: '{weight} g les mille, 95 % : {low} à {high} g',
    stands: 'Les portions concordent : elles diffèrent de {spread} %.',
    again:
      'Les portions diffèrent de {spread} %, plus que {limit} % : en compter encore autant avant de s’y fier.',
    few: 'Peser au moins deux portions.',
  },
  density: {
    title: 'Mesurer la masse volumique',
    volume: 'Volume de la mesure',
    mass: 'Semences dedans',
    gives: '{density}',
    how: 'Laisser couler sans secouer, araser, peser. Prendre la moyenne de trois.',
  },
  target: {
    means: 'Ce que cela signifie',
    bulk: 'Sortis du sac',
    live: 'Semences pures vivantes',
    number: 'Graines vivantes',
    perArea: '{count} par {unit}',
    plants: 'Plantes attendues',
  },
  turns: {
    enough:
      '{turns, plural, one {# tour suffit} other {# tours suffisent}} pour être à {tolerance} % près dans {confidence} essais sur 100.',
    never:
      'Aucun nombre de tours ne rend un essai sûr à {tolerance} % : les essais eux-mêmes diffèrent trop. Répéter l’essai, ou admettre plus.',
    binds: {
      scale: 'La balance décide : une plus fine, ou plus de rangs recueillis, en demanderait moins.',
      counting: 'Le comptage décide : plus d’aimants sur la roue en demanderait moins.',
      'seed-sampling':
        'Les semences décident : il en tombe si peu que le hasard se voit. Plus de rangs recueillis en demanderait moins.',
      fixed: 'La répétition des essais décide : plus de tours aident peu, plus d’essais oui.',
    },
    planned: 'Les {turns} tours prévus : à {half} % près.',
    short: 'C’est plus large que la tolérance.',
    alone: 'Tours que chacun demanderait seul : balance {scale}, comptage {counting}, semences {seed}.',
    lengths: 'Ou une longueur usuelle',
    choose: 'Choisir …',
    length: '{name} : {turns, plural, one {# tour} other {# tours}}',
  },
  noPlace:
    'Ce réglage n’a pas de place sur l’échelle : les essais faits avec lui ne disent pas lequel vient ensuite.',
  reasons: {
    rowSpacing:
      'Chaque rang compte pour une bande large comme la distance au voisin. Un millimètre sur 15 cm change la dose de 0,7 %.',
    rowSpacingFrom:
      'Il vient de {within} dans une rangée, {ranks, plural, one {# rangée} other {# rangées}} : écartement dans la rangée ÷ rangées.',
    circumference:
      'Tours × circonférence est le chemin que le semoir aurait fait. Un pneu chargé roule moins loin que ne dit le ruban.',
    circumferenceFrom: {
      tape: 'Elle vient de {count, plural, one {# lecture} other {# lectures}} du ruban : leur moyenne ; un pneu chargé peut différer de 2 %.',
      'roll-out': 'Elle vient de {turns} tours déroulés : distance ÷ tours.',
      field: 'Elle vient de tours comptés sur {distance} au champ : distance ÷ tours, patinage compris.',
    },
    slip: 'Au champ la roue patine et tourne moins que le chemin ne demande. Chemin = tours × circonférence ÷ (1 − patinage).',
    rowsCaught:
      'Le recueilli est divisé par la bande de tous les rangs recueillis. Plus de rangs, plus de graines, moins de hasard.',
    scaleStep:
      'Avec l’échelle, Catchbench nomme le prochain repère à essayer, jamais un qu’on ne peut régler.',
    shaftRatio: 'Impulsions par tour de roue = impulsions par tour de l’arbre du capteur × ce rapport.',
    thousandSeedWeight:
      'Des graines lourdes sont peu nombreuses dans un gramme, et le peu se disperse plus. Il change aussi les nombres de graines en dose.',
    bulkDensity:
      'Les doseurs déplacent des volumes : une autre masse volumique demande un autre réglage. Trémie et remplissages en dépendent aussi.',
    repeatability:
      'Ce qui diffère d’un essai à l’autre au-delà du hasard des graines. Souvent 1 à 2 % ; vos essais le montreront.',
    targetRate:
      'Graines voulues × poids d’une ÷ (pureté × part vivante) est la dose sortie du sac ; les plantes sont d’abord divisées par leur part des graines vivantes.',
    tolerance:
      'La bande autour de la dose voulue qui compte comme juste. Là où le hasard des graines décide, la moitié de la bande demande quatre fois plus de tours.',
    confidence:
      'Les essais finissent quand la vraie dose est dans la bande avec cette chance, non quand un seul essai tombe juste.',
    turns:
      'Les incertitudes de la balance, du comptage et des semences diminuent avec les tours ; ensemble elles doivent tenir dans la tolérance.',
    gives:
      'Quantité visée = dose × tours × circonférence ÷ (1 − patinage) × écartement des rangs × rangs recueillis.',
  },
  sketches: {
    ranks: {
      title: 'Rangées décalées, vues de dessus',
      text: 'Deux rangées d’éléments, ceux de derrière entre ceux de devant. La grande mesure va d’un élément à l’autre dans une rangée, la petite d’un rang à l’autre au sol.',
      within: 'dans une rangée',
      rows: 'rang à rang',
    },
    tape: {
      title: 'Ruban autour du milieu de la bande de roulement',
      text: 'Une roue de côté, un mètre ruban posé une fois autour de la bande de roulement. Charge et pression comme au travail.',
      tape: 'ruban',
    },
    roll: {
      title: 'Déroulement : marquer, rouler des tours entiers, mesurer',
      text: 'Une roue marquée au point le plus bas du pneu ; un second trait de craie au sol où la marque est de nouveau en bas après plusieurs tours. On mesure la distance des deux.',
      start: 'marque en bas',
      end: 'de nouveau en bas',
      way: 'distance',
    },
    bag: {
      title: 'Sac sous le tube de descente',
      text: 'Un doseur avec un tube de descente. Un sac pend sous le tube à un peson et ne touche ni tube ni bâti.',
      tube: 'tube de descente',
      cell: 'peson',
      bag: 'sac, libre',
    },
    sensor: {
      title: 'Capteur à la roue, ou à un arbre derrière des pignons',
      text: 'Des aimants sur la roue d’entraînement passent devant un capteur fixe. Quand le capteur compte un autre arbre, des pignons ou une chaîne y mènent.',
      magnet: 'aimant',
      sensor: 'capteur',
      shaft: 'autre arbre',
    },
    count: {
      title: 'Graines comptées, chaque portion pesée à part',
      text: 'Plusieurs tas du même nombre de graines à côté d’une balance ; chacun est pesé seul.',
      portion: 'même nombre dans chacune',
      weigh: 'balance',
    },
    measure: {
      title: 'Mesure remplie et arasée',
      text: 'Un récipient de volume connu plein de semences, arasé avec une règle, non secoué.',
      level: 'arasé',
      volume: 'volume connu',
    },
  },
  errors: {
    'too-few-marks': 'Écrire au moins deux repères, séparés par des virgules : A, B, C.',
    'no-such-mark': 'L’échelle a les repères {marks}. Écrire l’un d’eux.',
    'more-than-rows':
      'Le semoir a {rows, plural, one {# rang} other {# rangs}} : on ne peut en recueillir plus.',
    parts: 'Il manque quelque chose dans la composition des semences ; c’est marqué à cet endroit.',
    shares: 'Les parts font {percent} % au lieu de 100 %.',
    'too-thick':
      'Les parts font {percent} % d’un peuplement complet : plus de deux peuplements sur une parcelle.',
    tag: 'Faculté germinative, graines dures et dormantes font {percent} %. Une étiquette peut déjà compter les graines dures : alors dures vaut 0.',
    'nothing-alive':
      'Aucune graine n’est vivante : aucune dose ne donne un peuplement. Revoir la faculté germinative.',
    'needs-seed':
      'Un nombre de graines ou de plantes demande le poids du grain : chercher l’espèce plus haut, ou l’ajouter à la main.',
    'needs-density': 'Un boisseau n’est pas une masse à lui seul : écrire la masse volumique plus haut.',
    'needs-establishment':
      'Pour des plantes il faut savoir combien de graines vivantes lèvent : par exemple 70 %.',
  },
} as const;
