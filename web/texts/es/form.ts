export const form = {
  title: 'Plan del próximo ensayo',
  groups: {
    drill: 'Sembradora',
    scale: 'Escala de ajuste',
    seed: 'Semilla',
    target: 'Objetivo',
    run: 'El ensayo',
    doubts: 'Incertidumbres, para quien las conozca',
  },
  scaleIntro:
    'Con ella Catchbench puede decir qué ajuste probar después. Deje vacío todo el grupo para prescindir de ella.',
  doubtsIntro:
    'Cuánto puede desviarse cada cifra. Ensanchan el intervalo de la dosis; nunca cambian la dosis misma.',
  fields: {
    drillName: { label: 'Sembradora', help: 'Como usted la llama.' },
    setting: {
      label: 'Ajuste',
      help: 'Como lo dice la escala de la sembradora. Solo un número, para que tenga su sitio en la escala.',
    },
    rowSpacing: {
      label: 'Distancia entre líneas',
      help: 'De una línea a la siguiente. Filas alternadas: distancia dentro de una fila dividida por el número de filas.',
    },
    circumference: {
      label: 'Circunferencia de la rueda',
      help: 'Suelo recorrido en una vuelta. Lo mejor: rodar varias vueltas con el neumático cargado.',
    },
    rowsCaught: { label: 'Líneas recogidas', help: 'Líneas cuya semilla cae en la bolsa.' },
    rowCount: { label: 'Líneas de toda la sembradora', help: 'Puede quedar vacío.' },
    scaleLow: { label: 'Marca más baja', help: '' },
    scaleHigh: { label: 'Marca más alta', help: '' },
    scaleStep: { label: 'Paso', help: 'De una marca que se puede fijar a la siguiente.' },
    configuration: {
      label: 'Compuerta, muesca o marcha',
      help: 'La que tiene ahora la sembradora; las marcas valen solo para ella.',
    },
    otherConfigurations: {
      label: 'Otras que tiene',
      help: 'Separadas por comas. Se ofrecen donde la escala no alcanza la dosis deseada.',
    },
    slip: { label: 'Patinaje de la rueda', help: 'Parte del recorrido que la rueda no rueda.' },
    seedName: { label: 'Semilla o mezcla', help: 'Como en el saco.' },
    thousandSeedWeight: {
      label: 'Peso de mil semillas',
      help: 'En una mezcla, la media de los pesos de sus semillas, cada uno según su parte de la masa.',
    },
    bulkDensity: {
      label: 'Densidad aparente',
      help: 'Puede quedar vacío. Ayuda a aprender de otra semilla.',
    },
    repeatability: {
      label: 'Diferencia de un ensayo a otro',
      help: 'Cuánto difieren los ensayos con un mismo ajuste, más allá de lo que explica la caída a golpes.',
    },
    targetRate: { label: 'Dosis deseada', help: 'Semilla tal como sale del saco.' },
    tolerance: { label: 'Tolerancia', help: 'Tanto por encima o por debajo aún cuenta como correcto.' },
    confidence: {
      label: 'Certeza deseada',
      help: 'Qué probabilidad debe tener la dosis real de ser correcta antes de terminar. Vacío: 90 %.',
    },
    turns: { label: 'Vueltas', help: 'Vueltas de la rueda motriz en un ensayo.' },
    mode: { label: 'Girada por', help: '' },
    plannedSpeed: { label: 'Velocidad en el campo', help: 'Dejar vacío si no importa.' },
    rowSpacingDoubt: {
      label: 'Incertidumbre de la distancia',
      help: 'Una incertidumbre típica: cierto con este margen en dos de cada tres casos.',
    },
    circumferenceDoubt: { label: 'Incertidumbre de la circunferencia', help: 'Una incertidumbre típica.' },
    slipDoubt: {
      label: 'Incertidumbre del patinaje',
      help: 'Una incertidumbre típica, en puntos porcentuales.',
    },
    closedAt: {
      label: 'Marca cerrada',
      help: 'Marca en la que el dosificador no debería dar nada. Vacío: 0.',
    },
    leverPlay: {
      label: 'Holgura de la palanca',
      help: 'A qué distancia de su marca queda en realidad la palanca, en marcas; una desviación típica. Vacío: un quinto de paso.',
    },
  },
  modes: { motor: 'Motor', hand: 'Mano' },
  gives: 'Esto da',
  area: 'Superficie cubierta',
  targetCatch: 'Cantidad objetivo',
  rightFrom: 'correcto de {low} a {high} g',
  cannotGive: 'Rellene los campos señalados arriba para ver la cantidad objetivo.',
  save: 'Guardar el plan',
  saved: 'Guardado.',
  unchanged: 'No hay cambios que guardar.',
  discard: 'Descartar mis cambios',
  changedElsewhere:
    'Entretanto el plan se cambió en otra página. Los campos que usted tocó conservan lo que escribió.',
  toRun: 'Al ensayo',
  errors: {
    empty: 'Falta: {label}.',
    tooLong: '{label}: demasiado largo, {most, number} caracteres como máximo.',
    nonsense: '«{typed}» no es un número. Escriba por ejemplo {example}.',
    unit: '«{unit}» no es una unidad para este campo. Escriba por ejemplo {example}.',
    twoReadings: 'Esto puede significar {one} o {other}. Escríbalo sin el punto.',
    range: '{label}: de {low} a {high}.',
    whole: '{label}: un número entero.',
    tooMany: '{label}: {most, number} como máximo.',
    scaleIncomplete:
      'Una escala de ajuste pide juntas la marca más baja, la más alta y el paso. O vacíe todos los campos de la escala.',
    belowLow: 'La marca más alta debe estar por encima de la más baja.',
    stepTooWide: 'El paso no debe ser mayor que toda la escala.',
    closedTooHigh: 'La marca cerrada debe estar por debajo de la marca más alta.',
  },
} as const;
