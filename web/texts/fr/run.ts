export const live = {
  stopKeys: 'Échap ou espace',
  catch: 'Recueilli',
  targetCatch: 'Quantité visée',
  grams: 'g',
  target: 'visé {grams} g',
  right: 'bon de {low} à {high} g',
  turns: 'Tours',
  ofTurns: 'sur {preset}',
  toGo: 'restants',
  allTurned: 'Tous les tours faits',
  backward: '{turns} tours à l’envers',
  rate: 'Dose',
  interval: '95 % : de {low} à {high}',
  noRate: 'Vient avec les premiers tours',
  rateBand: 'voulu de {low} à {high} {unit}',
  speed: 'Vitesse de la roue',
  perMinute: 'tours par minute',
  stands: 'soit {speed}',
  planned: 'prévu {speed}',
  targetRange: 'visé {grams} (de {low} à {high} g)',
  forecast: 'finira à {grams} ± {half} g',
  speedNow: { slow: '▼ trop lent', fast: '▲ trop vite' },
  kept: 'tenue pendant {percent, number} %',
  shareOnPlan: '{percent, number} % des tours à la vitesse prévue',
  chart: 'Quantité recueillie selon les tours',
  chartNow: 'Courbe de la quantité recueillie selon les tours. Dernière valeur : {grams} g à {turns} tours.',
  chartEmpty: 'Courbe de la quantité recueillie selon les tours. Rien de recueilli encore.',
  chartBand: 'dans la tolérance',
  gramsAxis: 'Grammes',
  motorOn: 'Moteur en marche',
  motorOff: 'Moteur arrêté',
  lost: '{count, plural, one {# lecture a été perdue ; les totaux la rattrapent.} other {# lectures ont été perdues ; les totaux les rattrapent.}}',
  none: '–',
} as const;

export const throwAway = {
  ask: 'Rejeter cet essai ? Il reste enregistré, avec cette mention.',
  yes: 'Oui, rejeter',
  no: 'Garder',
} as const;

export const caution = {
  title: 'Avant que la roue ne tourne',
  motor: [
    'Semoir sur chandelles, autres roues calées, moteur et transmission immobilisés.',
    'Personne près de la roue, des chaînes ou des arbres de distribution ; pas de vêtements flottants.',
    'Le bouton d’arrêt câblé sur le banc est le dispositif de sécurité. Cette page ne l’est pas : une page peut se figer.',
  ],
  hand: [
    'Semoir sur chandelles, autres roues calées.',
    'Doigts loin des chaînes, des engrenages et des arbres de distribution.',
  ],
  more: 'Suivez la notice du semoir et les règles de votre lieu de travail. Semences traitées : suivez l’étiquette.',
} as const;

export const result = {
  title: 'Résultat',
  titleAt: 'Résultat au réglage {setting}',
  doubt: 'D’où vient l’incertitude',
  doubtIntro:
    'Ce que chaque part à elle seule laisserait d’incertain, en part de la dose (une incertitude type). C’est sur la plus grande que le soin paie.',
  common: 'la même à chaque essai sur ce semoir',
  largest: 'la plus grande',
  parts: {
    weighing: 'Pesée',
    scale: 'La balance elle-même',
    turns: 'Comptage des tours',
    circumference: 'Circonférence de la roue',
    'row-spacing': 'Écartement des rangs',
    slip: 'Patinage de la roue',
    'seed-sampling': 'La semence tombe par paquets',
    repeatability: 'D’un essai à l’autre',
  },
  percent: '{share} %',
  caught: '{grams} g en {turns} tours',
} as const;

export const strip = {
  title: 'Préparation',
  next: 'Prochain essai',
  now: 'Cet essai',
  was: 'Préparation de cet essai',
  setting: 'réglage {setting}',
  noSetting: 'aucun réglage noté',
  turns: { motor: '{turns} tours au moteur', hand: '{turns} tours à la main' },
  target: '{rate} ± {tolerance} %',
  change: 'Changer la préparation',
} as const;

export const runs = {
  title: 'Essais faits',
  none: 'Pas encore d’essai.',
  loading: 'Lecture des archives …',
  columns: { when: 'Quand', setting: 'Réglage', caught: 'Recueilli', rate: 'Dose', outcome: 'Issue' },
  demo: 'démo',
  open: 'Essai du {when}',
  back: 'Tous les essais',
  missing: 'Cet essai n’est pas enregistré.',
  unclosed: 'non clos',
} as const;
