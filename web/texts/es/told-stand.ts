export const stand = {
  firmwareOlder:
    'La placa tiene el firmware {firmware}, más antiguo que {shipped}, que viene con este programa. Funciona, pero grábelo: hardware-notes/README.md dice cómo.',
  firmwareNewer:
    'La placa tiene el firmware {firmware}, más nuevo de lo que este programa conoce ({shipped}). Funciona mientras ambos se entiendan; actualice este programa.',
  settingsBlank: 'La placa aún no tiene valores.',
  settingsCorrupt: 'Los valores de la placa están dañados: introdúzcalos y guárdelos de nuevo.',
  resetWatchdog: 'El programa de la placa se colgó y se reinició. Anote qué llevó a ello y comuníquelo.',
  resetBrownOut:
    'La alimentación de la placa cayó en el último reinicio: alimentación propia para las bobinas, un diodo en cada una.',
  settingRefused: 'La placa no aceptó el valor {key}.',
  settingsSaved: 'Los valores se guardaron en la placa.',
  debounceLong:
    'El antirrebote de {debounce} µs es la mitad del tiempo entre dos pulsos o más a 60 vueltas por minuto: manténgalo por debajo de {most} µs.',
  rateOff:
    '{rate} lecturas por segundo en lugar de {least} a {most}: revise los pines de cadencia de los convertidores (en alto) y la línea.',
  valuesMissing:
    'No llegaron {missing} valores: revise los hilos de datos y la alimentación de los convertidores.',
  healthNotHeard: 'La placa no dijo dos veces cómo está.',
  converterLate: 'Un convertidor se retrasó {late} veces: pin de cadencia, o uno más lento que los demás.',
  converterDesync:
    'Un convertidor perdió el paso {desync} veces: hilo de reloj demasiado largo o junto al del motor.',
  receivedLost: 'La placa perdió {lost} bytes del ordenador.',
  readingsLost: 'Se perdieron {lost} lecturas por falta de sitio en la línea.',
  loopSlow: 'El programa de la placa tardó {worst} µs en una pasada.',
  stackShort: 'Solo {stack} bytes de la pila de la placa no se usaron nunca.',
  noPulses: 'No llegó ningún pulso: revise el enchufe, la alimentación y la separación del sensor.',
  directionWrong:
    'Girado hacia {way}, subió la otra cuenta: cambie los dos hilos del sensor o ponga dirección 2 en vez de 1.',
  directionMissing: 'Girado hacia atrás sin sensor de sentido: ponga dirección 1 donde lo haya.',
  bothWays:
    '{wrong} pulsos contados en el otro sentido: el sensor B no está a un cuarto de pulso de A, o la rueda osciló hacia atrás.',
  pulsesDiffer:
    '{counted} pulsos en lugar de {expected}: {perTurn} por vuelta. ¿Giró exactamente tres vueltas? Entonces falta un imán o se ve dos veces, o el valor es falso.',
  magnetMissing:
    'Tras el pulso {place} de la vuelta falta uno cada vez: imán perdido o demasiado lejos del sensor.',
  magnetDoubled: 'El pulso {place} de la vuelta llega demasiado pronto cada vez: un imán visto dos veces.',
  pulsesDoubled:
    'Los pulsos llegan dobles alrededor de toda la rueda: el antirrebote es más corto que el rebote, o el soporte está flojo.',
  pulsesMissed:
    'Faltan pulsos alrededor de toda la rueda: la separación es demasiado grande o el antirrebote demasiado largo.',
  magnetOffPlace: 'Un imán está a un {percent} % de la separación de su sitio.',
  bounceMuch:
    '{bounced} flancos se rechazaron como rebote: más de uno por pulso. Un soporte más firme, una separación menor o un sensor sin contactos.',
  zeroFar:
    'La célula {cell} está en {counts} cuentas sin carga: no queda sitio para una carga. Célula doblada o mal cableada.',
  massOff: 'La célula {cell} muestra {off} g de error en {load} g; se permiten {allowed} g.',
  ofCell: 'Célula {cell}: {sentence}',
  slopeDiffers: 'Célula {cell}: la pendiente de la placa está a un {percent} % de la hallada.',
  lineWritten: 'Las rectas halladas se guardaron en la placa.',
  lineNotWritten: 'Las rectas no se pudieron guardar en la placa; siguen valiendo las anteriores.',
  lineKeptHere: 'La placa conserva sus rectas como estaban.',
  buttonNotSeen: 'El botón de parada no se vio: su segundo contacto, el hilo a PD3.',
  buttonStays: 'El contacto de parada siguió abierto: PD3 a masa con un hilo; ¿se cierra entonces?',
  armNotRefused: 'Con el botón de parada pulsado, la placa no se negó a armarse ({word}).',
  armNotTried:
    'Sin valores la placa no se puede armar, así que no se probó si se niega con el botón pulsado.',
  lampUnknown:
    'Este firmware no puede probar la lámpara por sí solo: obsérvela en el primer ensayo girado a mano.',
  lampRefused: 'La placa no encendió la lámpara: {word}.',
  lampDark: 'Nada que ver ni oír: bombilla, su transistor, su alimentación, el hilo a PB1.',
  lampFlagMissing: 'La placa no dijo que la lámpara estaba encendida.',
  motorRefused: 'El motor no arrancó: {word}.',
  motorHalted: 'La placa paró el motor antes de la cuenta: {why}.',
  motorStopped: 'Parado a mano.',
  motorNoEnd: 'La rueda no llegó a su cuenta en un minuto: parada.',
  motorFlagMissing: 'La placa no dijo que el motor estaba en marcha.',
  motorStaysOn:
    'LA SALIDA DEL MOTOR SIGUE ACTIVA tras la cuenta. Botón de parada, desenchufe; cambie relé y contactor.',
  coastLong:
    'La rueda siguió {turns} vueltas tras la cuenta: media vuelta como mucho. Un freno, o una rueda más lenta.',
  standLost: 'El banco desapareció durante este paso.',
  noCheck: 'No hay ninguna comprobación en curso.',
  beginOne: 'Empiece una primero.',
  noneReadable: 'No hay conectado ningún banco cuyos valores se puedan leer.',
  keeping: 'Guardando la comprobación.',
  cannotHold:
    'La placa no puede guardar una pendiente de {slope} g por cuenta con su cero en {zero} cuentas.',
  notSurelySaved: 'Puede que los valores no se hayan guardado: mírelos de nuevo.',
  noSuchCheck: 'No existe esa comprobación de un banco.',
  noValues:
    'La célula {cell} no dio ningún valor bueno durante {seconds} s: revise sus hilos y su convertidor.',
  motorGoesOn:
    'LA RUEDA SIGUE GIRANDO tras la cuenta, otro tanto de lo que fue impulsada. Botón de parada, desenchufe; busque un relé o contactor que se pegue, después un freno.',
} as const;

export const standParts = {
  forward: 'adelante',
  back: 'atrás',
  itArmed: 'se armó',
  noAnswerWord: 'sin respuesta',
} as const;
