export const kept = {
  newVersion: 'Une nouvelle version de cette page est là. Ce que vous avez saisi reste.',
  takeIt: 'L’utiliser maintenant',
  withoutTitle: 'Ouverte sans Catchbench',
  without:
    'La page vient de ce que cet appareil a gardé ; aucune nouvelle de Catchbench depuis son ouverture. Préparation, essais et chiffres reviennent d’eux-mêmes dès qu’il est joint.',
  title: 'Sans liaison',
  here: 'Cet appareil garde la page : elle s’ouvre aussi sans réseau, puis attend Catchbench.',
  cannot:
    'Ce navigateur ne garde pas la page : il faut Catchbench à chaque ouverture. Les navigateurs ne gardent une page que depuis le même ordinateur ou en https.',
  looking: 'Vérification : ce navigateur peut-il garder la page …',
} as const;
