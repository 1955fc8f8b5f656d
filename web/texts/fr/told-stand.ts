export const stand = {
  firmwareOlder:
    'La carte a le micrologiciel {firmware}, plus ancien que {shipped}, livré avec ce programme. Cela marche, mais installez-le : hardware-notes/README.md dit comment.',
  firmwareNewer:
    'La carte a le micrologiciel {firmware}, plus récent que ce programme ne connaît ({shipped}). Cela marche tant que les deux se comprennent ; mettez ce programme à jour.',
  settingsBlank: 'La carte n’a pas encore de valeurs.',
  settingsCorrupt: 'Les valeurs de la carte sont abîmées : saisissez-les et enregistrez-les de nouveau.',
  resetWatchdog: 'Le programme de la carte s’est figé et a redémarré. Notez ce qui y a mené et signalez-le.',
  resetBrownOut:
    'L’alimentation de la carte a fléchi au dernier redémarrage : une alimentation à part pour les bobines, une diode sur chacune.',
  settingRefused: 'La carte n’a pas pris la valeur {key}.',
  settingsSaved: 'Les valeurs ont été enregistrées dans la carte.',
  debounceLong:
    'L’antirebond de {debounce} µs atteint la moitié du temps entre deux impulsions ou plus à 60 tours par minute : restez au-dessous de {most} µs.',
  rateOff:
    '{rate} mesures par seconde au lieu de {least} à {most} : vérifiez les broches de cadence des convertisseurs (à l’état haut) et la ligne.',
  valuesMissing:
    '{missing} valeurs ne sont pas venues : vérifiez les fils de données et l’alimentation des convertisseurs.',
  healthNotHeard: 'La carte n’a pas dit deux fois comment elle va.',
  converterLate:
    'Un convertisseur a été en retard {late} fois : broche de cadence, ou un plus lent que les autres.',
  converterDesync:
    'Un convertisseur a perdu le pas {desync} fois : fil d’horloge trop long ou à côté de celui du moteur.',
  receivedLost: 'La carte a perdu {lost} octets venant de l’ordinateur.',
  readingsLost: '{lost} mesures ont été perdues faute de place sur la ligne.',
  loopSlow: 'Le programme de la carte a mis {worst} µs pour une boucle.',
  stackShort: 'Seuls {stack} octets de la pile de la carte n’ont jamais servi.',
  noPulses: 'Aucune impulsion : vérifiez la fiche, l’alimentation et l’écart du capteur.',
  directionWrong:
    'Tourné en {way}, c’est l’autre compteur qui a monté : échangez les deux fils du capteur ou mettez la direction 2 au lieu de 1.',
  directionMissing: 'Tourné en arrière sans capteur de sens : mettez la direction 1 là où il y en a un.',
  bothWays:
    '{wrong} impulsions comptées dans l’autre sens : le capteur B n’est pas à un quart d’impulsion de A, ou la roue est revenue en arrière.',
  pulsesDiffer:
    '{counted} impulsions au lieu de {expected} : {perTurn} par tour. Exactement trois tours ? Alors un aimant manque ou est vu deux fois, ou la valeur est fausse.',
  magnetMissing:
    'Après l’impulsion {place} du tour, il en manque une chaque fois : aimant perdu ou trop loin du capteur.',
  magnetDoubled: 'L’impulsion {place} du tour vient trop tôt chaque fois : un aimant vu deux fois.',
  pulsesDoubled:
    'Les impulsions viennent en double tout autour de la roue : l’antirebond est plus court que le rebond, ou le support a du jeu.',
  pulsesMissed:
    'Des impulsions manquent tout autour de la roue : l’écart est trop grand, ou l’antirebond trop long.',
  magnetOffPlace: 'Un aimant est à {percent} % de l’écartement de sa place.',
  bounceMuch:
    '{bounced} fronts ont été rejetés comme rebonds : plus d’un par impulsion. Un support plus ferme, un écart plus petit ou un capteur sans contacts.',
  zeroFar:
    'Le peson {cell} est à {counts} points sans charge : plus de place pour une charge. Peson tordu ou mal câblé.',
  massOff: 'Le peson {cell} montre {off} g d’écart à {load} g ; {allowed} g sont permis.',
  ofCell: 'Peson {cell} : {sentence}',
  slopeDiffers: 'Peson {cell} : la pente de la carte est à {percent} % de celle trouvée.',
  lineWritten: 'Les droites trouvées ont été enregistrées dans la carte.',
  lineNotWritten:
    'Les droites n’ont pas pu être enregistrées dans la carte ; les précédentes restent en usage.',
  lineKeptHere: 'La carte garde ses droites telles quelles.',
  buttonNotSeen: 'Le bouton d’arrêt n’a pas été vu : son second contact, le fil vers PD3.',
  buttonStays: 'Le contact d’arrêt est resté ouvert : PD3 à la masse par un fil ; se ferme-t-il alors ?',
  armNotRefused: 'Bouton d’arrêt enfoncé, la carte n’a pas refusé d’être armée ({word}).',
  armNotTried:
    'Sans valeurs, la carte ne peut pas être armée ; son refus, bouton enfoncé, n’a donc pas été essayé.',
  lampUnknown:
    'Ce micrologiciel ne peut pas essayer la lampe seul : regardez-la au premier essai tourné à la main.',
  lampRefused: 'La carte n’a pas allumé la lampe : {word}.',
  lampDark: 'Rien à voir ni à entendre : ampoule, son transistor, son alimentation, le fil vers PB1.',
  lampFlagMissing: 'La carte n’a pas dit que la lampe était allumée.',
  motorRefused: 'Le moteur n’a pas démarré : {word}.',
  motorHalted: 'La carte a arrêté le moteur avant le compte : {why}.',
  motorStopped: 'Arrêté à la main.',
  motorNoEnd: 'La roue n’est pas arrivée à son compte en une minute : arrêtée.',
  motorFlagMissing: 'La carte n’a pas dit que le moteur tournait.',
  motorStaysOn:
    'LA SORTIE DU MOTEUR RESTE ACTIVE après le compte. Bouton d’arrêt, débranchez ; remplacez relais et contacteur.',
  coastLong:
    'La roue a continué de {turns} tours après le compte : un demi-tour au plus. Un frein, ou une roue plus lente.',
  standLost: 'Le banc a disparu pendant cette étape.',
  noCheck: 'Aucun contrôle n’est en cours.',
  beginOne: 'Commencez-en un d’abord.',
  noneReadable: 'Aucun banc n’est connecté dont les valeurs puissent être lues.',
  keeping: 'Enregistrement du contrôle.',
  cannotHold: 'La carte ne peut pas tenir une pente de {slope} g par point avec son zéro à {zero} points.',
  notSurelySaved: 'Les valeurs ne sont peut-être pas enregistrées : regardez-les de nouveau.',
  noSuchCheck: 'Ce contrôle d’un banc n’existe pas.',
  noValues:
    'Le peson {cell} n’a pas donné de bonne valeur pendant {seconds} s : vérifiez ses fils et son convertisseur.',
  motorGoesOn:
    'LA ROUE CONTINUE DE TOURNER après le compte, encore autant qu’elle a été entraînée. Bouton d’arrêt, débranchez ; cherchez un relais ou un contacteur qui colle, puis un frein.',
} as const;

export const standParts = {
  forward: 'avant',
  back: 'arrière',
  itArmed: 'elle s’est armée',
  noAnswerWord: 'pas de réponse',
} as const;
