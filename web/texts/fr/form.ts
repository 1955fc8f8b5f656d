export const form = {
  title: 'Préparation du prochain essai',
  groups: {
    drill: 'Semoir',
    scale: 'Échelle de réglage',
    seed: 'Semence',
    target: 'Objectif',
    run: 'L’essai',
    doubts: 'Incertitudes, pour qui les connaît',
  },
  scaleIntro:
    'Avec elle, Catchbench peut dire quel réglage essayer ensuite. Laissez tout le groupe vide pour vous en passer.',
  doubtsIntro:
    'De combien chaque chiffre peut être faux. Elles élargissent l’intervalle de la dose ; elles ne changent jamais la dose elle-même.',
  fields: {
    drillName: { label: 'Semoir', help: 'Comme vous l’appelez.' },
    setting: {
      label: 'Réglage',
      help: 'Comme l’échelle du semoir l’indique. Un nombre seul, pour qu’il ait sa place sur l’échelle.',
    },
    rowSpacing: {
      label: 'Écartement des rangs',
      help: 'D’un rang au suivant. Rangées décalées : écartement dans une rangée divisé par le nombre de rangées.',
    },
    circumference: {
      label: 'Circonférence de la roue',
      help: 'Sol parcouru en un tour. Le mieux : rouler plusieurs tours, pneu chargé.',
    },
    rowsCaught: { label: 'Rangs recueillis', help: 'Rangs dont la semence tombe dans le sac.' },
    rowCount: { label: 'Rangs de tout le semoir', help: 'Peut rester vide.' },
    scaleLow: { label: 'Repère le plus bas', help: '' },
    scaleHigh: { label: 'Repère le plus haut', help: '' },
    scaleStep: { label: 'Pas', help: 'D’un repère réglable au suivant.' },
    configuration: {
      label: 'Trappe, cran ou pignon',
      help: 'Celui du semoir en ce moment ; les repères ne valent que pour lui.',
    },
    otherConfigurations: {
      label: 'Les autres possibles',
      help: 'Séparés par des points-virgules. Proposés quand l’échelle n’atteint pas la dose voulue.',
    },
    slip: { label: 'Patinage de la roue', help: 'Part du trajet que la roue ne roule pas.' },
    seedName: { label: 'Semence ou mélange', help: 'Comme sur le sac.' },
    thousandSeedWeight: {
      label: 'Poids de mille grains',
      help: 'Pour un mélange, la moyenne des poids de ses graines, chacun compté selon sa part en masse.',
    },
    bulkDensity: {
      label: 'Masse volumique apparente',
      help: 'Peut rester vide. Aide à apprendre d’autres semences.',
    },
    repeatability: {
      label: 'Écart d’un essai à l’autre',
      help: 'De combien diffèrent les essais au même réglage, au-delà de ce que la chute par paquets explique.',
    },
    targetRate: { label: 'Dose voulue', help: 'Semence telle qu’elle sort du sac.' },
    tolerance: { label: 'Tolérance', help: 'Autant au-dessus ou au-dessous compte encore comme bon.' },
    confidence: {
      label: 'Certitude voulue',
      help: 'Probabilité que la vraie dose soit bonne avant de finir les essais. Vide : 90 %.',
    },
    turns: { label: 'Tours', help: 'Tours de roue d’entraînement pour un essai.' },
    mode: { label: 'Tournée par', help: '' },
    plannedSpeed: { label: 'Vitesse au champ', help: 'Laisser vide si elle ne compte pas.' },
    rowSpacingDoubt: {
      label: 'Incertitude de l’écartement',
      help: 'Une incertitude type : vrai à cela près dans deux cas sur trois.',
    },
    circumferenceDoubt: { label: 'Incertitude de la circonférence', help: 'Une incertitude type.' },
    slipDoubt: { label: 'Incertitude du patinage', help: 'Une incertitude type, en points de pourcentage.' },
    closedAt: {
      label: 'Repère fermé',
      help: 'Repère auquel la distribution ne devrait rien donner. Vide : 0.',
    },
    leverPlay: {
      label: 'Jeu du levier',
      help: 'À quelle distance du repère le levier se tient en réalité, en repères ; un écart type. Vide : un cinquième de pas.',
    },
  },
  modes: { motor: 'Moteur', hand: 'Main' },
  gives: 'Cela donne',
  area: 'Surface couverte',
  targetCatch: 'Quantité visée',
  rightFrom: 'bon de {low} à {high} g',
  cannotGive: 'Remplissez les champs signalés ci-dessus pour voir la quantité visée.',
  save: 'Enregistrer la préparation',
  saved: 'Enregistré.',
  unchanged: 'Rien à enregistrer.',
  discard: 'Abandonner mes changements',
  changedElsewhere:
    'La préparation a été changée entre-temps sur une autre page. Les champs que vous avez touchés gardent votre saisie.',
  toRun: 'Vers l’essai',
  errors: {
    empty: '{label} : il manque une valeur.',
    tooLong: '{label} : trop long, {most, number} caractères au plus.',
    nonsense: '« {typed} » n’est pas un nombre. Écrivez par exemple {example}.',
    unit: '« {unit} » n’est pas une unité pour ce champ. Écrivez par exemple {example}.',
    twoReadings: 'Cela peut vouloir dire {one} ou {other}. Écrivez-le sans le point.',
    range: '{label} : de {low} à {high}.',
    whole: '{label} : un nombre entier.',
    tooMany: '{label} : {most, number} au plus.',
    scaleIncomplete:
      'Une échelle de réglage demande ensemble le repère le plus bas, le plus haut et le pas. Ou videz tous les champs de l’échelle.',
    belowLow: 'Le repère le plus haut doit être au-dessus du plus bas.',
    stepTooWide: 'Le pas ne doit pas dépasser l’échelle entière.',
    closedTooHigh: 'Le repère fermé doit être au-dessous du repère le plus haut.',
  },
} as const;
