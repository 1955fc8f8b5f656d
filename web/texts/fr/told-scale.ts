export const scale = {
  readsTooMuch:
    '{what} donne {grams} de trop : est-ce la bonne masse, et rien ne touche ? Pesez-la de nouveau, ou laissez-la de côté.',
  readsTooLittle:
    '{what} donne {grams} de trop peu : est-ce la bonne masse, et rien ne touche ? Pesez-la de nouveau, ou laissez-la de côté.',
  noLine:
    'Les pesées ne sont sur aucune droite. L’une d’elles est fausse : {which}. Pesez une masse de plus pour voir laquelle.',
  scatter:
    'Les pesées s’écartent trop d’une droite : le plus, {what}, de {grams}. Cherchez ce qui a du jeu ou touche, laissez pendre sans bouger, et recommencez.',
  tooLight:
    'Les masses sont trop légères pour le bruit de cette balance : sa pente reste incertaine de {share}.',
  weighUpTo: 'Pesez jusqu’à environ {grams}, plus souvent, ou calmez d’abord la balance.',
  twoNamed: 'Deux masses étalons s’appellent {name} : donnez un nom à chacune.',
  onlyOnce: 'Une masse étalon ne peut être sur la balance qu’une fois à la fois.',
  noneNamed: 'Aucune masse étalon ne s’appelle {name}.',
  noneNamedHere: 'Aucune masse étalon de ce contrôle ne s’appelle {name}.',
  weighEmpty: 'Pesez aussi la balance vide : sans zéro, pas de droite.',
  secondMass:
    'Une masse étalon et le zéro font toujours une droite, juste ou fausse : pesez une deuxième masse, différente, mieux cinq.',
  countsRise:
    'Les points montent avec la charge : le peson est à l’envers ou deux de ses fils sont échangés. Réparez, ou dites que c’est voulu.',
  countsFall:
    'Les points baissent avec la charge : le peson est à l’envers ou deux de ses fils sont échangés. Réparez, ou dites que c’est voulu.',
  noMore:
    'Avec {more}, la balance ne montre pas plus qu’avec {less}. Vérifiez quelle masse est laquelle, et que rien ne touche.',
  noClass:
    'Les classes de poids vont par 1, 2 et 5, de 1 g à 5 kg : pour {grams}, indiquez plutôt la masse et son incertitude.',
  fewMasses:
    'Seulement {count} charges différentes : cinq montrent bien plus sûrement une masse fausse ou une courbure.',
  noReturn: 'Aucune pesée en descendant : si la balance revient comme elle est allée reste inconnu.',
  spanBelowUse:
    'Des charges jusqu’à {heaviest} sont à peser, mais les masses ne vont qu’à {span} : au-delà, la droite est une supposition.',
  hysteresisMore:
    'À {load}, la balance montre {grams} de plus en descendant qu’en montant : cherchez un frottement, un sac ou un câble qui touche, une vis desserrée.',
  hysteresisLess:
    'À {load}, la balance montre {grams} de moins en descendant qu’en montant : cherchez un frottement, un sac ou un câble qui touche, une vis desserrée.',
  zeroHigher: 'La balance vide est revenue {grams} plus haut : elle dérive, flue ou colle.',
  zeroLower: 'La balance vide est revenue {grams} plus bas : elle dérive, flue ou colle.',
  bends:
    'La balance est courbe : une courbe quitte la droite de {grams}, et les pesées ne s’en écartent que de {scatter}. Étalonnez sur les charges que vous pesez.',
  creeps:
    'À {load}, la mesure bougeait encore de {grams} pendant la moyenne : attendez plus longtemps, ou le peson flue.',
  oddMuch:
    'De toutes les masses, celle-ci s’accorde le moins aux autres : {what}, avec {grams} de trop. Est-ce la bonne ?',
  oddLittle:
    'De toutes les masses, celle-ci s’accorde le moins aux autres : {what}, avec {grams} de trop peu. Est-ce la bonne ?',
  slopeNotZero: 'La pente de la balance ne doit pas être 0.',
  valuesMissing:
    '{share} des mesures sont venues sans valeur : vérifiez la fiche du peson et l’alimentation du convertisseur.',
  clipped: '{share} des mesures sont au bout de la plage du convertisseur : trop de charge ou un fil coupé.',
  slow: '{rate} mesures par seconde au lieu de {wanted} : vérifiez le pont de cadence du convertisseur et la ligne.',
  gap: 'Aucune mesure pendant {seconds} : vérifiez le câble entre carte et ordinateur.',
  stuck: 'Toutes les mesures sont égales : convertisseur ou peson mort, car un vivant tremble toujours.',
  coarse: 'Les mesures ne prennent que peu de valeurs : le convertisseur ne résout pas son propre bruit.',
  noisy:
    'Les mesures se dispersent de {grams} au lieu de {wanted} : cherchez vibration, vent, secteur près du câble du peson.',
  drifts:
    'La charge dérive de {grams} par minute : laissez chauffer le peson, éloignez soleil et courant d’air, cherchez ce qui glisse.',
  driftUnclear:
    'On ne peut pas encore dire si la charge dérive : laissez-la immobile et regardez plus longtemps.',
  silent: 'Aucune mesure n’est venue : vérifiez câble, port et alimentation.',
  tooShort: '{count} mesures sont trop peu pour juger une balance : regardez-la dix secondes ou plus.',
  noZeroYet: 'Il n’y a pas encore de poids pour faire le zéro : laissez la balance tranquille une seconde.',
  cells: 'Ce banc a {count} pesons.',
  fullCheck: 'Ce contrôle a autant de pesées qu’il peut en avoir : gardez-le ou commencez-en un autre.',
  weighingAlready: 'Une pesée est déjà en cours.',
  otherStand: 'Ce contrôle a été fait sur le banc « {one} », pas sur « {other} ».',
  noWriting: 'Ce banc ne prend pas de valeurs de la page : gardez le contrôle sans écrire.',
  noWeight: 'La balance n’a donné aucun poids : vérifiez la fiche du peson, et que le banc est connecté.',
  noScale: 'Il n’y a pas de balance à interroger.',
  runUnderWay: 'Un essai est en cours sur cette balance.',
  noCheck: 'Aucun contrôle de la balance n’est en cours.',
  sayHowSure: 'Dites à combien la masse est sûre, en grammes : un dixième d’elle au plus.',
} as const;

export const scaleParts = {
  theMass: 'la masse {mass}',
  TheMass: 'La masse {mass}',
  emptyScale: 'la balance vide',
  EmptyScale: 'La balance vide',
  weighing: 'la {ordinal} pesée ({mass})',
  Weighing: 'La {ordinal} pesée ({mass})',
  byGrams: '{what} de {grams}',
  first: 'première',
  second: 'deuxième',
  third: 'troisième',
  fourth: 'quatrième',
  fifth: 'cinquième',
  sixth: 'sixième',
  seventh: 'septième',
  eighth: 'huitième',
  ninth: 'neuvième',
  laterOrdinal: '{number}e',
  tooLittle: 'trop peu',
  tooMuch: 'trop',
} as const;
