export const page = {
  name: 'Catchbench',
  skip: 'Aller aux commandes de l’essai',
  demo: 'Démo',
  menu: 'Rubriques',
  loading: 'Un instant …',
  notLoaded: 'Cette rubrique n’a pas pu être chargée. Catchbench fonctionne-t-il encore ?',
  again: 'Réessayer',
  demoNote: 'Banc et semoir imaginaires : rien ne tourne pour de vrai.',
} as const;

export const places = {
  run: 'Essai',
  setting: 'Réglage',
  plan: 'Préparation',
  stand: 'Banc',
  field: 'Champ',
  runs: 'Archives',
  sheet: 'Fiche',
  preferences: 'Préférences',
} as const;

export const units = { choose: 'Unités', metric: 'kg/ha', us: 'lb/ac', turns: 'tours' } as const;

export const problem = {
  unreachable: 'Catchbench ne répond pas. Fonctionne-t-il encore ?',
  unreachableStop:
    'L’arrêt n’est pas passé : Catchbench ne répond pas. Utilisez le bouton d’arrêt câblé sur le banc.',
  unknown: 'Catchbench a refusé sans dire pourquoi (code {status, number}).',
  close: 'Fermer',
} as const;

export const age = {
  never: 'aucune nouvelle encore',
  heard: 'dernières nouvelles il y a {ago}',
  seconds: '{seconds, number} s',
  minutes: '{minutes, number} min',
} as const;

export const socket = {
  connecting: 'Connexion à Catchbench …',
  lostWord: 'Pas de liaison',
  lost: 'Cette page ne joint pas Catchbench : le programme s’est peut-être terminé, ou le réseau est coupé.',
  lostTurning:
    'Cette page ne joint pas Catchbench, et la roue tourne peut-être. Pour l’arrêter, utilisez le bouton d’arrêt câblé sur le banc.',
  notSetUp: 'Banc non configuré',
  waiting: 'Nouvel essai dans {seconds, number} s.',
  trying: 'Tentative en cours …',
  tryNow: 'Essayer maintenant',
  old: 'Chiffres anciens : {age}.',
} as const;
