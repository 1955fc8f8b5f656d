export const sheet = {
  title: 'Fiche d’étalonnage',
  print: 'Imprimer cette page',
  none: 'Rien à imprimer encore : la fiche vient avec le premier essai d’un réglage dont l’échelle de réglage est connue.',
  toSetting: 'Vers le réglage',
  missing: 'Cet étalonnage n’est pas dans les archives, ou il ne contient aucun essai.',
  loading: 'Lecture des archives …',
  which: 'Que faut-il imprimer',
  kinds: { sheet: 'Fiche', lid: 'Tableau pour la trémie' },
  pdf: 'PDF, {paper}',
} as const;
