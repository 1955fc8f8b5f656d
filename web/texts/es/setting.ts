export const setting = {
  reading: 'Leyendo la calibración …',
  of: 'Calibración de',
  heads: {
    'no-advice': 'Aún sin consejo',
    'first-run': 'Haga un primer ensayo',
    set: 'Próximo ajuste',
    done: 'Hecho: déjelo en',
    settle: 'No mejorará más que en',
    'out-of-reach': 'La escala no alcanza',
  },
  use: 'Usar el ajuste {mark}',
  planned: 'El plan dice {mark}. Ponga la palanca en {mark} y prepare.',
  plannedStays: 'El plan dice {mark}. Deje ahí la palanca y prepare otro ensayo.',
  plannedDone: 'El plan dice {mark}. No hay más que probar.',
  expected: 'esperado {rate} (95 %: de {low} a {high})',
  between: 'entre {low} y {high}',
  fillIn: 'Rellenar la escala de ajuste',
  toPlan: 'Ver el plan',
  toSetting: 'Por qué, y todos los ensayos',
  toSheet: 'La hoja para entregar',
  working: 'Calculando lo que sigue …',

  stop: {
    title: '¿Se puede terminar?',
    none: 'Nada que juzgar antes del primer ensayo.',
    chance: 'Probabilidad de que la dosis real sea correcta',
    wanted: 'deseado {share} %',
    at: 'con el ajuste {mark}',
    more: 'Probablemente {runs, plural, one {# ensayo más} other {# ensayos más}}.',
    moreTurns:
      'Probablemente {runs, plural, one {# ensayo más} other {# ensayos más}}, {turns, number} vueltas en total.',
    noMore: 'Ningún número de ensayos más daría la certeza deseada.',
    limits: {
      noise: 'Los ensayos difieren demasiado entre sí: más vueltas por ensayo, o averigüe por qué.',
      step: 'Las marcas de la escala están demasiado separadas para esta tolerancia.',
      'lever-play': 'La palanca no queda igual cada vez que se coloca.',
      rows: 'Las líneas de la sembradora difieren demasiado entre sí.',
      common: 'La circunferencia, la distancia entre líneas o el patinaje no se conocen lo bastante bien.',
    },
    inTheWay: 'Lo que estorba:',
    lucky: 'Por qué un acierto no basta:',
  },

  curve: {
    title: 'Dosis según el ajuste',
    axis: 'Ajuste',
    label:
      'Gráfico de la dosis según el ajuste, con {runs, plural, one {# ensayo} other {# ensayos}}. Las mismas cifras están en las tablas de ensayos y de marcas.',
    labelNext:
      'Gráfico de la dosis según el ajuste, con {runs, plural, one {# ensayo} other {# ensayos}}; próximo ajuste {next}. Las mismas cifras están en las tablas de ensayos y de marcas.',
    stand: 'banco',
    hand: 'a mano',
    aside: 'hueco: fuera del modelo',
    line: 'línea y su banda del 95 %',
    band: 'objetivo con tolerancia',
    next: 'próximo ajuste',
    latest: 'objetivo {rate}',
  },

  runs: {
    title: 'Ensayos de esta calibración',
    none: 'Ninguno aún. Los ensayos del banco llegan aquí solos; uno pesado a mano se escribe abajo.',
    columns: {
      name: 'Ensayo',
      setting: 'Ajuste',
      caught: 'Recogido',
      rate: 'Dosis',
      source: 'Pesado',
      model: 'En el modelo',
      act: '',
    },
    name: 'Ensayo {number}',
    sources: { stand: 'en el banco', hand: 'a mano' },
    counts: 'sí',
    setAside: 'Apartar',
    setAsideOf: 'Apartar: {name}',
    bringBack: 'Recuperar',
    bringBackOf: 'Recuperar: {name}',
    ask: '¿Por qué apartar {name}? Queda en el archivo y se puede recuperar.',
    reasons: [
      'la bolsa tocaba algo',
      'se derramó semilla',
      'las vueltas se contaron mal',
      'la palanca no estaba donde se anotó',
      'la tolva iba casi vacía',
    ],
    other: 'O con sus propias palabras',
    whyMissing: 'Elija un motivo, o escriba uno.',
    keep: 'Dejarlo',
  },

  hand: {
    title: 'Pesado a mano',
    intro:
      'También cuenta lo recogido en una bolsa o un cubo y pesado en cualquier báscula, con su mayor incertidumbre.',
    fields: {
      setting: 'Ajuste',
      turns: 'Vueltas',
      grams: 'Recogido',
      scaleStep: 'Escalón de la báscula',
    },
    stepHelp: 'El menor escalón que muestra su pantalla.',
    byEye: 'Vueltas contadas a ojo',
    byEyeHelp: 'Puede haberse pasado una por alto.',
    add: 'Añadir este ensayo',
    added: 'Añadido.',
  },

  rows: {
    title: '¿Coinciden las líneas?',
    intro:
      'Lo que dan algunas líneas vale para la sembradora solo en la medida en que sus líneas coinciden. Recoja varias, con las mismas vueltas cada una, y escríbalas.',
    fields: {
      turns: 'Vueltas',
      catches: 'Recogido de cada línea, en orden',
      scaleStep: 'Escalón de la báscula',
    },
    catchesHelp: 'Separados por espacios: 85,2 88 84,6',
    together: 'Todas recogidas en las mismas vueltas',
    compare: 'Comparar',
    doubt:
      'Tenido en cuenta: las líneas recogidas pueden apartarse un {share} % de la media de la sembradora (una incertidumbre típica).',
  },

  marks: {
    title: 'Tabla de ajuste',
    none: 'Viene con el primer ensayo.',
    columns: { setting: 'Marca', rate: 'Dosis', interval: '95 %', known: 'Cómo se sabe' },
    words: {
      measured: 'medido',
      inferred: 'deducido',
      'out of range': 'fuera de rango',
    },
    target: 'la más cercana al objetivo',
    all: 'Las {count, number} marcas',
    rounds: 'Qué ajuste para qué dosis',
    roundColumns: { rate: 'Dosis', setting: 'Marca', interval: '95 %', known: 'Cómo se sabe' },
    noMark: 'no en esta escala',
  },

  lid: {
    title: 'Tabla de la tapa de la sembradora',
    intro:
      'Dos o tres filas de la tabla impresa, en torno a la dosis deseada, dan un primer ajuste antes de todo ensayo.',
    setting: 'Ajuste',
    rate: 'Dosis',
    row: 'fila {index, number}',
    density: 'Densidad aparente de la semilla de la tabla',
    densityHelp: 'Puede quedar vacío.',
    another: 'Otra fila',
    keep: 'Guardar estas filas',
    kept: 'Guardadas.',
  },

  how: { title: 'Cómo se halló esto', interval: '95 %: de {low} a {high}' },
  units: {
    'g/m² per mark': '{rate} por marca',
    mark: 'marca {value}',
    runs: '{count, plural, one {# ensayo} other {# ensayos}}',
    turns: '{count} vueltas',
  },
  findings: 'Conviene saberlo',
  past: 'Parte de: {names}.',

  anew: {
    start: 'Empezar de nuevo',
    ask: '¿Terminar esta calibración? Sus ensayos quedan en el archivo; el próximo ensayo empieza otra.',
    yes: 'Sí, empezar de nuevo',
    no: 'Seguir con esta',
  },
} as const;
