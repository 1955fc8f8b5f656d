export const sheet = {
  title: 'Hoja de calibración',
  print: 'Imprimir esta página',
  none: 'Aún no hay nada que imprimir: la hoja llega con el primer ensayo de una calibración cuya escala de ajuste se conoce.',
  toSetting: 'Al ajuste',
  missing: 'Esta calibración no está en los registros, o no tiene ensayos.',
  loading: 'Leyendo los registros …',
  which: 'Qué imprimir',
  kinds: { sheet: 'Hoja', lid: 'Tabla para la tapa' },
  pdf: 'PDF, {paper}',
} as const;
