export const beforeRun = {
  title: 'Antes de que gire la rueda',
  seenTitle: 'Lo que el banco ve por sí mismo',
  askedTitle: 'Lo que solo usted puede ver',
  confirm: 'Todo en orden: preparar',
  confirmedAt: 'Revisado {when}.',
  againIntro: 'Al preparar usted afirma:',
  untilThen: 'Hasta que se confirme esta lista, Preparar, al pie, no arma nada: lleva aquí.',
  notYet: 'Primero revisar la lista, luego confirmarla.',
  software: 'Esta página no es un dispositivo de seguridad. Lo es el botón de parada cableado al banco.',
  states: { good: 'bien', open: 'todavía no', wrong: 'revisar', unknown: 'sin banco' },
  seen: {
    link: {
      name: 'Enlace con el banco',
      why: 'Sin él la placa para el motor y el ensayo se pierde.',
      good: 'vivo',
      open: 'no oído todavía',
      wrong: 'mudo: revisar cable y alimentación',
      unknown: 'no hay banco conectado',
    },
    zero: {
      name: 'Cero estable',
      why: 'Una bolsa que oscila o una báscula que deriva pasa directamente a lo recogido.',
      good: 'la carga está quieta',
      open: 'la carga aún se mueve: dejar colgar la bolsa, apartar viento y manos',
      wrong: 'la carga no se calma',
      unknown: 'no se ve sin banco',
    },
    scale: {
      name: 'Comprobación de la báscula',
      why: 'Toda dosis descansa en la báscula. Sin comprobación vigente, su pendiente solo se da por buena.',
      good: '{days, plural, =0 {hecha hoy} one {de hace # día} other {de hace # días}}',
      open: 'ninguna vigente: hacer una en Banco cuando haya tiempo',
      wrong: 'la última encontró algo que arreglar',
      unknown: 'no se ve sin banco',
    },
    wheel: {
      name: 'Sensor de rueda',
      why: 'Un imán corrido o un enchufe flojo se muestra antes del ensayo, no después.',
      good: 'visto en {turns} vueltas desde que se conectó el banco',
      open: '{turns} vueltas vistas: girar la rueda una vez a mano',
      wrong: 'sin pulsos',
      unknown: 'no se ve sin banco',
    },
    'stop-button': {
      name: 'Botón de parada del banco',
      why: 'Es lo que para la rueda cuando todo lo demás falla. Solo un botón probado lo es.',
      good: 'probado hoy, {when}',
      open: 'no probado hoy: pulsarlo una vez y soltarlo',
      wrong: 'está pulsado o su cable roto: soltarlo',
      unknown: 'no se ve sin banco',
    },
  },
  asked: {
    'on-stands': {
      name: 'Sembradora sobre sus caballetes, y firme',
      why: 'Si resbala mientras gira la rueda, aplasta a quien esté debajo.',
    },
    chocked: {
      name: 'Las demás ruedas calzadas',
      why: 'Una rueda que gira puede hacer andar la máquina fuera de los caballetes.',
    },
    'people-clear': {
      name: 'Nadie cerca de rueda, cadenas y ejes dosificadores; sin ropa suelta',
      why: 'Cadenas y ejes atrapan dedos y mangas.',
    },
    'drive-engaged': {
      name: 'Embrague y transmisión a los dosificadores conectados',
      why: 'Si no, la rueda gira y no cae nada.',
    },
    'tubes-clear': {
      name: 'Tubos de bajada libres',
      why: 'Un tubo atascado parece una dosis demasiado baja.',
    },
    primed: {
      name: 'Semilla sobre todos los dosificadores y unas vueltas dadas para llenarlos',
      why: 'Las primeras vueltas llenan los alvéolos y dan de menos.',
    },
    'bag-on': {
      name: 'Bolsa puesta, colgando libre, sin tocar nada',
      why: 'Lo que la bolsa toca lleva parte de lo recogido.',
    },
    'treated-seed': {
      name: 'Semilla tratada: guantes y mascarilla según su etiqueta',
      why: 'Su polvo daña piel y pulmones. Semilla sin tratar: nada que hacer.',
    },
    'bag-emptied': {
      name: 'Bolsa vaciada y colgada otra vez, libre',
      why: 'La tara se toma de nuevo cada vez.',
    },
  },
} as const;
