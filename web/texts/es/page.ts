export const page = {
  name: 'Catchbench',
  skip: 'Ir a los mandos del ensayo',
  demo: 'Demo',
  menu: 'Secciones',
  loading: 'Un momento …',
  notLoaded: 'No se pudo cargar esta sección. ¿Sigue en marcha Catchbench?',
  again: 'Intentar de nuevo',
  demoNote: 'Banco y sembradora imaginarios: nada gira de verdad.',
} as const;

export const places = {
  run: 'Ensayo',
  setting: 'Ajuste',
  plan: 'Plan',
  stand: 'Banco',
  field: 'Campo',
  runs: 'Archivo',
  sheet: 'Hoja',
  preferences: 'Preferencias',
} as const;

export const units = { choose: 'Unidades', metric: 'kg/ha', us: 'lb/ac', turns: 'vueltas' } as const;

export const problem = {
  unreachable: 'Catchbench no responde. ¿Sigue en marcha?',
  unreachableStop: 'La parada no llegó: Catchbench no responde. Use el botón de parada cableado en el banco.',
  unknown: 'Catchbench rechazó la petición sin decir por qué (estado {status, number}).',
  close: 'Cerrar',
} as const;

export const age = {
  never: 'aún sin noticias',
  heard: 'últimas noticias hace {ago}',
  seconds: '{seconds, number} s',
  minutes: '{minutes, number} min',
} as const;

export const socket = {
  connecting: 'Conectando con Catchbench …',
  lostWord: 'Sin conexión',
  lost: 'Esta página no alcanza a Catchbench: puede que el programa haya terminado o que la red esté caída.',
  lostTurning:
    'Esta página no alcanza a Catchbench, y puede que la rueda esté girando. Para pararla, use el botón de parada cableado en el banco.',
  notSetUp: 'Banco sin configurar',
  waiting: 'Nuevo intento en {seconds, number} s.',
  trying: 'Intentando …',
  tryNow: 'Intentar ahora',
  old: 'Cifras antiguas: {age}.',
} as const;
