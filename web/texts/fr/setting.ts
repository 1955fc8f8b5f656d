export const setting = {
  reading: 'Lecture de l’étalonnage …',
  of: 'Étalonnage de',
  heads: {
    'no-advice': 'Pas encore de conseil',
    'first-run': 'Faire un premier essai',
    set: 'Prochain réglage',
    done: 'Terminé : rester sur',
    settle: 'Pas mieux possible que',
    'out-of-reach': 'L’échelle ne suffit pas',
  },
  use: 'Prendre le réglage {mark}',
  planned: 'La préparation indique {mark}. Placez le levier sur {mark}, puis préparez.',
  plannedStays: 'La préparation indique {mark}. Laissez le levier là et préparez un autre essai.',
  plannedDone: 'La préparation indique {mark}. Plus rien à essayer.',
  expected: 'attendu {rate} (95 % : de {low} à {high})',
  between: 'entre {low} et {high}',
  fillIn: 'Remplir l’échelle de réglage',
  toPlan: 'Voir la préparation',
  toSetting: 'Pourquoi, et tous les essais',
  toSheet: 'La fiche à remettre',
  working: 'Calcul de la suite …',

  stop: {
    title: 'Peut-on finir les essais ?',
    none: 'Rien à juger avant le premier essai.',
    chance: 'Chance que la vraie dose soit bonne',
    wanted: 'voulu {share} %',
    at: 'au réglage {mark}',
    more: 'Probablement encore {runs, plural, one {# essai} other {# essais}}.',
    moreTurns:
      'Probablement encore {runs, plural, one {# essai} other {# essais}}, {turns, number} tours en tout.',
    noMore: 'Aucun nombre d’essais de plus ne donnerait la certitude voulue.',
    limits: {
      noise: 'Les essais diffèrent trop de l’un à l’autre : plus de tours par essai, ou cherchez pourquoi.',
      step: 'Les repères de l’échelle sont trop espacés pour cette tolérance.',
      'lever-play': 'Le levier ne se tient pas pareil chaque fois qu’on le place.',
      rows: 'Les rangs du semoir diffèrent trop entre eux.',
      common: 'La circonférence, l’écartement des rangs ou le patinage ne sont pas assez bien connus.',
    },
    inTheWay: 'Ce qui gêne :',
    lucky: 'Pourquoi un coup au but ne suffit pas :',
  },

  curve: {
    title: 'Dose selon le réglage',
    axis: 'Réglage',
    label:
      'Graphique de la dose selon le réglage, avec {runs, plural, one {# essai} other {# essais}}. Les mêmes chiffres figurent dans les tableaux des essais et des repères.',
    labelNext:
      'Graphique de la dose selon le réglage, avec {runs, plural, one {# essai} other {# essais}} ; prochain réglage {next}. Les mêmes chiffres figurent dans les tableaux des essais et des repères.',
    stand: 'banc',
    hand: 'à la main',
    aside: 'creux : hors du modèle',
    line: 'droite et sa bande à 95 %',
    band: 'objectif et tolérance',
    next: 'prochain réglage',
    latest: 'objectif {rate}',
  },

  runs: {
    title: 'Essais de cet étalonnage',
    none: 'Aucun encore. Les essais du banc viennent ici d’eux-mêmes ; un essai pesé à la main se saisit ci-dessous.',
    columns: {
      name: 'Essai',
      setting: 'Réglage',
      caught: 'Recueilli',
      rate: 'Dose',
      source: 'Pesé',
      model: 'Dans le modèle',
      act: '',
    },
    name: 'Essai {number}',
    sources: { stand: 'sur le banc', hand: 'à la main' },
    counts: 'oui',
    setAside: 'Mettre de côté',
    setAsideOf: 'Mettre de côté : {name}',
    bringBack: 'Reprendre',
    bringBackOf: 'Reprendre : {name}',
    ask: 'Pourquoi mettre de côté : {name} ? Il reste enregistré et peut être repris.',
    reasons: [
      'le sac touchait quelque chose',
      'de la semence a été renversée',
      'les tours ont été mal comptés',
      'le levier n’était pas où il a été noté',
      'la trémie était presque vide',
    ],
    other: 'Ou avec vos propres mots',
    whyMissing: 'Choisissez une raison, ou écrivez-en une.',
    keep: 'Le garder',
  },

  hand: {
    title: 'Pesé à la main',
    intro:
      'Une quantité recueillie dans un sac ou un seau, pesée sur n’importe quelle balance, compte aussi, avec son incertitude plus grande.',
    fields: {
      setting: 'Réglage',
      turns: 'Tours',
      grams: 'Recueilli',
      scaleStep: 'Échelon de la balance',
    },
    stepHelp: 'Le plus petit échelon que montre son affichage.',
    byEye: 'Tours comptés à l’œil',
    byEyeHelp: 'On a donc pu en manquer un.',
    add: 'Ajouter cet essai',
    added: 'Ajouté.',
  },

  rows: {
    title: 'Les rangs s’accordent-ils ?',
    intro:
      'Ce que donnent quelques rangs ne vaut pour le semoir que si ses rangs s’accordent. Recueillez-en plusieurs, chacun sur autant de tours, et saisissez-les.',
    fields: {
      turns: 'Tours',
      catches: 'Recueilli de chaque rang, dans l’ordre',
      scaleStep: 'Échelon de la balance',
    },
    catchesHelp: 'Séparés par des espaces : 85,2 88 84,6',
    together: 'Tous recueillis dans les mêmes tours',
    compare: 'Comparer',
    doubt:
      'Pris en compte : les rangs recueillis peuvent s’écarter de {share} % de la moyenne du semoir (une incertitude type).',
  },

  marks: {
    title: 'Tableau de réglage',
    none: 'Vient avec le premier essai.',
    columns: { setting: 'Repère', rate: 'Dose', interval: '95 %', known: 'Connu comment' },
    words: {
      measured: 'mesuré',
      inferred: 'déduit',
      'out of range': 'hors plage',
    },
    target: 'le plus proche de l’objectif',
    all: 'Les {count, number} repères',
    rounds: 'Quel réglage pour quelle dose',
    roundColumns: { rate: 'Dose', setting: 'Repère', interval: '95 %', known: 'Connu comment' },
    noMark: 'pas sur cette échelle',
  },

  lid: {
    title: 'Tableau du couvercle du semoir',
    intro:
      'Deux ou trois lignes du tableau imprimé, autour de la dose voulue, donnent un premier réglage avant tout essai.',
    setting: 'Réglage',
    rate: 'Dose',
    row: 'ligne {index, number}',
    density: 'Masse volumique de la semence du tableau',
    densityHelp: 'Peut rester vide.',
    another: 'Une ligne de plus',
    keep: 'Garder ces lignes',
    kept: 'Gardé.',
  },

  how: { title: 'Comment cela a été trouvé', interval: '95 % : de {low} à {high}' },
  units: {
    'g/m² per mark': '{rate} par repère',
    mark: 'repère {value}',
    runs: '{count, plural, one {# essai} other {# essais}}',
    turns: '{count} tours',
  },
  findings: 'Bon à savoir',
  past: 'Part de : {names}.',

  anew: {
    start: 'Recommencer',
    ask: 'Finir cet étalonnage ? Ses essais restent enregistrés ; le prochain essai en commence un autre.',
    yes: 'Oui, recommencer',
    no: 'Continuer celui-ci',
  },
} as const;
