export const beforeRun = {
  title: 'Avant que la roue ne tourne',
  seenTitle: 'Ce que le banc voit lui-même',
  askedTitle: 'Ce que vous seul pouvez voir',
  confirm: 'Tout est en ordre : préparer',
  confirmedAt: 'Vérifié {when}.',
  againIntro: 'En préparant l’essai, vous affirmez :',
  untilThen:
    'Tant que cette liste n’est pas confirmée, Préparer au pied de la page n’arme rien : il mène ici.',
  notYet: 'Parcourir d’abord la liste, puis la confirmer.',
  software: 'Cette page n’est pas un dispositif de sécurité. Le bouton d’arrêt câblé sur le banc en est un.',
  states: { good: 'bon', open: 'pas encore', wrong: 'à regarder', unknown: 'pas de banc' },
  seen: {
    link: {
      name: 'Liaison avec le banc',
      why: 'Sans elle, la carte arrête le moteur et l’essai est perdu.',
      good: 'vivante',
      open: 'pas encore entendue',
      wrong: 'muette : vérifier câble et alimentation',
      unknown: 'aucun banc n’est relié',
    },
    zero: {
      name: 'Zéro stable',
      why: 'Un sac qui balance ou une balance qui dérive passe tout droit dans la quantité recueillie.',
      good: 'la charge est immobile',
      open: 'la charge bouge encore : laisser pendre le sac, éloigner vent et mains',
      wrong: 'la charge ne se calme pas',
      unknown: 'ne se voit pas sans banc',
    },
    scale: {
      name: 'Contrôle de la balance',
      why: 'Chaque dose repose sur la balance. Sans contrôle valable, sa pente est seulement tenue pour bonne.',
      good: '{days, plural, =0 {fait aujourd’hui} one {vieux de # jour} other {vieux de # jours}}',
      open: 'aucun en cours de validité : en faire un sous Banc dès que possible',
      wrong: 'le dernier a trouvé quelque chose à réparer',
      unknown: 'ne se voit pas sans banc',
    },
    wheel: {
      name: 'Capteur de roue',
      why: 'Un aimant déplacé ou une fiche lâche se montre avant l’essai, pas après.',
      good: 'vu sur {turns} tours depuis que le banc est relié',
      open: '{turns} tours vus : tourner la roue une fois à la main',
      wrong: 'aucune impulsion',
      unknown: 'ne se voit pas sans banc',
    },
    'stop-button': {
      name: 'Bouton d’arrêt du banc',
      why: 'C’est lui qui arrête la roue quand tout le reste échoue. Seul un bouton essayé en est un.',
      good: 'essayé aujourd’hui, {when}',
      open: 'pas essayé aujourd’hui : l’enfoncer une fois et le relâcher',
      wrong: 'il est enfoncé ou son fil est coupé : le relâcher',
      unknown: 'ne se voit pas sans banc',
    },
  },
  asked: {
    'on-stands': {
      name: 'Semoir sur ses chandelles, et il tient bien',
      why: 'S’il glisse pendant que la roue tourne, il écrase qui est dessous.',
    },
    chocked: {
      name: 'Autres roues calées',
      why: 'Une roue qui tourne peut faire avancer la machine hors des chandelles.',
    },
    'people-clear': {
      name: 'Personne près de la roue, des chaînes et des arbres de distribution ; pas de vêtement flottant',
      why: 'Chaînes et arbres happent doigts et manches.',
    },
    'drive-engaged': {
      name: 'Embrayage et entraînement des distributions engagés',
      why: 'Sinon la roue tourne et rien ne tombe.',
    },
    'tubes-clear': {
      name: 'Descentes de semence libres',
      why: 'Une descente bouchée ressemble à une dose trop faible.',
    },
    primed: {
      name: 'Semence sur toutes les distributions, quelques tours faits pour les remplir',
      why: 'Les premiers tours remplissent les alvéoles et donnent trop peu.',
    },
    'bag-on': {
      name: 'Sac accroché, pendant librement, sans rien toucher',
      why: 'Ce que le sac touche porte une part de la quantité recueillie.',
    },
    'treated-seed': {
      name: 'Semences traitées : gants et masque selon l’étiquette',
      why: 'Leur poussière nuit à la peau et aux poumons. Semences non traitées : rien à faire.',
    },
    'bag-emptied': {
      name: 'Sac vidé et raccroché, pendant librement',
      why: 'La tare est refaite chaque fois.',
    },
  },
} as const;
