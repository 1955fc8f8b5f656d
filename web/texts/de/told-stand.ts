export const stand = {
  firmwareOlder:
    'Die Platine hat Firmware {firmware}, älter als {shipped}, die mit diesem Programm kommt. Es geht, aber aufspielen: hardware-notes/README.md sagt, wie.',
  firmwareNewer:
    'Die Platine hat Firmware {firmware}, neuer als dieses Programm kennt ({shipped}). Es geht, soweit beide einander verstehen; dieses Programm erneuern.',
  settingsBlank: 'Die Platine hat noch keine Werte.',
  settingsCorrupt: 'Die Werte der Platine sind beschädigt: eingeben und neu speichern.',
  resetWatchdog:
    'Das Programm der Platine hing und wurde neu gestartet. Aufschreiben, was dazu führte, und melden.',
  resetBrownOut:
    'Die Versorgung der Platine brach beim letzten Neustart ein: Spulen aus eigener Versorgung, über jede eine Diode.',
  settingRefused: 'Die Platine nahm den Wert {key} nicht an.',
  settingsSaved: 'Die Werte wurden in der Platine gespeichert.',
  debounceLong:
    'Die Entprellzeit von {debounce} µs ist bei 60 Umdrehungen je Minute die halbe Zeit zwischen zwei Impulsen oder mehr: unter {most} µs bleiben.',
  rateOff:
    '{rate} Messwerte je Sekunde statt {least} bis {most}: Raten-Pins der Wandler (high) und Leitung prüfen.',
  valuesMissing: '{missing} Werte kamen nicht: Datenleitungen und Versorgung der Wandler prüfen.',
  healthNotHeard: 'Die Platine meldete ihren Zustand nicht zweimal.',
  converterLate: 'Ein Wandler war {late}-mal zu spät: Raten-Pin, oder einer ist langsamer als die anderen.',
  converterDesync:
    'Ein Wandler kam {desync}-mal aus dem Takt: Taktleitung zu lang oder neben der des Motors.',
  receivedLost: 'Die Platine verlor {lost} Bytes vom Rechner.',
  readingsLost: '{lost} Messwerte fielen weg, weil auf der Leitung kein Platz war.',
  loopSlow: 'Das Programm der Platine brauchte {worst} µs für einen Durchgang.',
  stackShort: 'Nur {stack} Bytes vom Stapelspeicher der Platine blieben unbenutzt.',
  noPulses: 'Es kam kein Impuls: Stecker, Versorgung und Abstand des Sensors prüfen.',
  directionWrong:
    'Gedreht wurde {way}, und der andere Zähler stieg: die beiden Sensorleitungen tauschen oder Richtung 2 statt 1 einstellen.',
  directionMissing: 'Rückwärts gedreht ohne Richtungssensor: Richtung 1 einstellen, wo einer eingebaut ist.',
  bothWays:
    '{wrong} Impulse zählten in die andere Richtung: Sensor B sitzt nicht eine Viertelteilung neben A, oder das Rad schwang zurück.',
  pulsesDiffer:
    '{counted} Impulse statt {expected}: {perTurn} je Umdrehung. Genau drei Umdrehungen gedreht? Dann fehlt ein Magnet oder wird doppelt gesehen, oder der Wert stimmt nicht.',
  magnetMissing:
    'Nach Impuls {place} der Umdrehung fehlt jedes Mal einer: Magnet verloren oder zu weit vom Sensor.',
  magnetDoubled: 'Impuls {place} der Umdrehung kommt jedes Mal zu früh: ein Magnet wird doppelt gesehen.',
  pulsesDoubled:
    'Rund um das Rad kommen die Impulse doppelt: Die Entprellzeit ist kürzer als das Prellen, oder der Halter ist lose.',
  pulsesMissed: 'Rund um das Rad fehlen Impulse: Der Abstand ist zu groß oder die Entprellzeit zu lang.',
  magnetOffPlace: 'Ein Magnet sitzt um {percent} % der Teilung neben seinem Platz.',
  bounceMuch:
    '{bounced} Flanken wurden als Prellen verworfen: mehr als eine je Impuls. Einen festeren Halter, einen kleineren Abstand oder einen Sensor ohne Kontakte nehmen.',
  zeroFar:
    'Zelle {cell} steht ohne Last bei {counts} Zählschritten: kein Platz für eine Last. Verbogene Zelle oder falsch verdrahtet.',
  massOff: 'Zelle {cell} zeigt {off} g daneben bei {load} g; erlaubt sind {allowed} g.',
  ofCell: 'Zelle {cell}: {sentence}',
  slopeDiffers: 'Zelle {cell}: Die Steigung in der Platine liegt {percent} % neben der gefundenen.',
  lineWritten: 'Die gefundenen Linien wurden in der Platine gespeichert.',
  lineNotWritten: 'Die Linien ließen sich nicht in der Platine speichern; die bisherigen gelten weiter.',
  lineKeptHere: 'Die Platine behält ihre Linien, wie sie waren.',
  buttonNotSeen: 'Der Stopptaster wurde nicht gesehen: sein zweiter Kontakt, die Leitung zu PD3.',
  buttonStays: 'Der Stoppkontakt blieb offen: PD3 mit einem Draht an Masse legen; schließt er dann?',
  armNotRefused: 'Bei gedrücktem Stopptaster lehnte die Platine das Scharfmachen nicht ab ({word}).',
  armNotTried:
    'Ohne Werte lässt sich die Platine nicht scharf machen; ob sie es bei gedrücktem Taster ablehnt, wurde darum nicht erprobt.',
  lampUnknown:
    'Diese Firmware kann die Lampe nicht für sich erproben: im ersten von Hand gedrehten Lauf auf sie achten.',
  lampRefused: 'Die Platine schaltete die Lampe nicht ein: {word}.',
  lampDark: 'Nichts zu sehen oder zu hören: Birne, ihr Transistor, ihre Versorgung, die Leitung zu PB1.',
  lampFlagMissing: 'Die Platine meldete nicht, dass die Lampe an war.',
  motorRefused: 'Der Motor wurde nicht gestartet: {word}.',
  motorHalted: 'Die Platine hielt den Motor vor der Zahl an: {why}.',
  motorStopped: 'Von Hand gestoppt.',
  motorNoEnd: 'Das Rad kam binnen einer Minute nicht auf seine Zahl: gestoppt.',
  motorFlagMissing: 'Die Platine meldete nicht, dass der Motor an war.',
  motorStaysOn:
    'DER MOTORAUSGANG BLEIBT nach der Zahl AN. Stopptaster drücken, Stecker ziehen; Relais und Schütz ersetzen.',
  coastLong:
    'Das Rad lief nach der Zahl noch {turns} Umdrehungen weiter: höchstens eine halbe darf es sein. Eine Bremse, oder langsamer drehen.',
  standLost: 'Der Prüfstand war während dieses Schritts weg.',
  noCheck: 'Es ist keine Prüfung im Gang.',
  beginOne: 'Zuerst eine beginnen.',
  noneReadable: 'Kein Prüfstand ist verbunden, dessen Werte sich lesen ließen.',
  keeping: 'Die Prüfung wird abgelegt.',
  cannotHold:
    'Die Platine kann eine Steigung von {slope} g je Zählschritt mit der Null bei {zero} nicht halten.',
  notSurelySaved: 'Die Werte sind vielleicht nicht gespeichert: noch einmal ansehen.',
  noSuchCheck: 'Diese Prüfung eines Prüfstands gibt es nicht.',
  noValues: 'Zelle {cell} gab {seconds} s lang keinen guten Wert: Leitungen und Wandler prüfen.',
  motorGoesOn:
    'DAS RAD DREHT SICH nach der Zahl WEITER, noch einmal so weit, wie es angetrieben wurde. Stopptaster drücken, Stecker ziehen; nach einem klebenden Relais oder Schütz suchen, dann nach einer Bremse.',
} as const;

export const standParts = {
  forward: 'vorwärts',
  back: 'rückwärts',
  itArmed: 'sie wurde scharf',
  noAnswerWord: 'keine Antwort',
} as const;
