export const live = {
  stopKeys: 'Esc o espacio',
  catch: 'Recogido',
  targetCatch: 'Cantidad objetivo',
  grams: 'g',
  target: 'objetivo {grams} g',
  right: 'correcto de {low} a {high} g',
  turns: 'Vueltas',
  ofTurns: 'de {preset}',
  toGo: 'por dar',
  allTurned: 'Todas dadas',
  backward: '{turns} vueltas al revés',
  rate: 'Dosis',
  interval: '95 %: de {low} a {high}',
  noRate: 'Viene con las primeras vueltas',
  rateBand: 'deseado de {low} a {high} {unit}',
  speed: 'Velocidad de la rueda',
  perMinute: 'vueltas por minuto',
  stands: 'equivale a {speed}',
  planned: 'previsto {speed}',
  targetRange: 'objetivo {grams} (de {low} a {high} g)',
  forecast: 'acabará en {grams} ± {half} g',
  speedNow: { slow: '▼ muy lento', fast: '▲ muy rápido' },
  kept: 'mantenida el {percent, number} %',
  shareOnPlan: '{percent, number} % de las vueltas a la velocidad prevista',
  chart: 'Recogido según las vueltas',
  chartNow: 'Curva de lo recogido según las vueltas. Último valor: {grams} g a las {turns} vueltas.',
  chartEmpty: 'Curva de lo recogido según las vueltas. Aún nada recogido.',
  chartBand: 'dentro de la tolerancia',
  gramsAxis: 'Gramos',
  motorOn: 'Motor en marcha',
  motorOff: 'Motor parado',
  lost: '{count, plural, one {Se perdió # lectura; los totales lo compensan.} other {Se perdieron # lecturas; los totales lo compensan.}}',
  none: '–',
} as const;

export const throwAway = {
  ask: '¿Desechar este ensayo? Queda en el archivo, así marcado.',
  yes: 'Sí, desechar',
  no: 'Conservar',
} as const;

export const caution = {
  title: 'Antes de que gire la rueda',
  motor: [
    'Sembradora sobre soportes, las demás ruedas calzadas, fuerza y transmisión aseguradas.',
    'Nadie cerca de la rueda, las cadenas o los ejes dosificadores; sin ropa suelta.',
    'El botón de parada cableado en el banco es el dispositivo de seguridad. Esta página no lo es: una página puede colgarse.',
  ],
  hand: [
    'Sembradora sobre soportes, las demás ruedas calzadas.',
    'Dedos lejos de cadenas, engranajes y ejes dosificadores.',
  ],
  more: 'Siga el manual de la sembradora y las normas de su lugar de trabajo. Semilla tratada: siga la etiqueta.',
} as const;

export const result = {
  title: 'Resultado',
  titleAt: 'Resultado con el ajuste {setting}',
  doubt: 'De dónde viene la incertidumbre',
  doubtIntro:
    'Lo que cada parte por sí sola dejaría incierto, como parte de la dosis (una incertidumbre típica). En la mayor es donde compensa el cuidado.',
  common: 'igual en cada ensayo de esta sembradora',
  largest: 'la mayor',
  parts: {
    weighing: 'Pesada',
    scale: 'La propia báscula',
    turns: 'Cuenta de vueltas',
    circumference: 'Circunferencia de la rueda',
    'row-spacing': 'Distancia entre líneas',
    slip: 'Patinaje de la rueda',
    'seed-sampling': 'La semilla cae a golpes',
    repeatability: 'De un ensayo a otro',
  },
  percent: '{share} %',
  caught: '{grams} g en {turns} vueltas',
} as const;

export const strip = {
  title: 'Plan',
  next: 'Próximo ensayo',
  now: 'Este ensayo',
  was: 'Plan de este ensayo',
  setting: 'ajuste {setting}',
  noSetting: 'sin ajuste anotado',
  turns: { motor: '{turns} vueltas con motor', hand: '{turns} vueltas a mano' },
  target: '{rate} ± {tolerance} %',
  change: 'Cambiar el plan',
} as const;

export const runs = {
  title: 'Ensayos hechos',
  none: 'Aún no hay ensayos.',
  loading: 'Leyendo el archivo …',
  columns: {
    when: 'Cuándo',
    setting: 'Ajuste',
    caught: 'Recogido',
    rate: 'Dosis',
    outcome: 'Desenlace',
  },
  demo: 'demo',
  open: 'Ensayo del {when}',
  back: 'Todos los ensayos',
  missing: 'Este ensayo no está en el archivo.',
  unclosed: 'sin cerrar',
} as const;
