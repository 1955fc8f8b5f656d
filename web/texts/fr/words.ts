export const phases = {
  idle: 'En attente',
  taring: 'Tarage',
  ready: 'Prêt',
  turning: 'Rotation',
  settling: 'Stabilisation',
  finished: 'Terminé',
} as const;

export const outcomes = {
  complete: 'Terminé',
  stopped: 'Arrêté',
  'stop-button': 'Bouton d’arrêt',
  'host-silent': 'Arrêté par la carte',
  reversed: 'Tourné à l’envers',
  stalled: 'Roue bloquée',
  expired: 'Non démarré à temps',
  refused: 'Refusé',
  'link-lost': 'Banc perdu',
  'board-reset': 'Carte redémarrée',
  aborted: 'Rejeté',
  interrupted: 'Interrompu',
} as const;

export const conditions = {
  searching: 'Pas de banc',
  opening: 'Ouverture',
  asking: 'Identification en cours',
  connected: 'Banc connecté',
  silent: 'Banc muet',
  lost: 'Banc perdu',
  'wrong-device': 'Ce n’est pas un banc',
  'wrong-version': 'Mauvaise version',
} as const;

export const acts = { arm: 'Préparer', start: 'Démarrer', stop: 'Arrêt', abort: 'Rejeter' } as const;

export const hints = {
  'no-page':
    'Pas de nouvelles de Catchbench. Si quelque chose tourne, utilisez le bouton d’arrêt câblé sur le banc.',
  connect: 'Ensuite : connecter le banc.',
  'save-plan':
    'Ensuite : enregistrer la préparation. Elle contient des changements dont un essai ne tiendrait pas encore compte.',
  arm: 'Ensuite : accrocher le sac vide, puis préparer. Le banc fait la tare lui-même.',
  'arm-again': 'Ensuite : vider le sac, changer le réglage au besoin, puis préparer à nouveau.',
  'use-setting':
    'Ensuite : prendre le réglage indiqué ci-dessus, placer le levier, vider le sac. Ou préparer à nouveau tel quel.',
  taring: 'Patienter : tarage. Ne pas toucher au sac.',
  'start-motor': 'Ensuite : personne près de la roue ? Alors démarrer.',
  'start-hand': 'Ensuite : démarrer, puis tourner la roue.',
  'turning-motor': 'Le banc s’arrête de lui-même au nombre de tours.',
  'turning-hand': 'Tourner régulièrement. Le voyant clignote avant le dernier tour et reste allumé à la fin.',
  'no-stand': 'Le banc ne répond pas. Si la roue tourne, utilisez le bouton d’arrêt qui y est câblé.',
  settling: 'Patienter : les dernières graines tombent et le sac se stabilise. Ne pas y toucher.',
} as const;

export const verdicts = {
  right: 'Le réglage est bon : tout l’intervalle à 95 % se trouve dans la tolérance.',
  high: 'Trop de semence : réglez le semoir pour en donner moins.',
  low: 'Trop peu de semence : réglez le semoir pour en donner plus.',
  open: 'Impossible à trancher : l’incertitude dépasse le bord de la tolérance. Plus de tours ou un autre essai le diraient.',
} as const;

export const verdictWords = {
  right: 'Dans la tolérance',
  high: 'Trop',
  low: 'Trop peu',
  open: 'Indécis',
} as const;
