export const phases = {
  idle: 'En espera',
  taring: 'Tarando',
  ready: 'Listo',
  turning: 'Girando',
  settling: 'Asentando',
  finished: 'Terminado',
} as const;

export const outcomes = {
  complete: 'Hecho',
  stopped: 'Parado',
  'stop-button': 'Botón de parada',
  'host-silent': 'Parado por la placa',
  reversed: 'Giró al revés',
  stalled: 'Rueda bloqueada',
  expired: 'No iniciado a tiempo',
  refused: 'Rechazado',
  'link-lost': 'Banco perdido',
  'board-reset': 'Placa reiniciada',
  aborted: 'Desechado',
  interrupted: 'Interrumpido',
} as const;

export const conditions = {
  searching: 'Sin banco',
  opening: 'Abriendo',
  asking: 'Preguntando quién está',
  connected: 'Banco conectado',
  silent: 'Banco en silencio',
  lost: 'Banco perdido',
  'wrong-device': 'No es un banco',
  'wrong-version': 'Versión incorrecta',
} as const;

export const acts = { arm: 'Preparar', start: 'Iniciar', stop: 'Parar', abort: 'Desechar' } as const;

export const hints = {
  'no-page': 'Sin noticias de Catchbench. Si algo gira, use el botón de parada cableado en el banco.',
  connect: 'Ahora: conectar el banco.',
  'save-plan': 'Ahora: guardar el plan. Tiene cambios que un ensayo aún no usaría.',
  arm: 'Ahora: colgar la bolsa vacía y preparar. El banco se tara solo.',
  'arm-again': 'Ahora: vaciar la bolsa, cambiar el ajuste si hace falta y preparar de nuevo.',
  'use-setting':
    'Ahora: tomar el ajuste indicado arriba, colocar la palanca, vaciar la bolsa. O preparar de nuevo tal como está.',
  taring: 'Espere: tarando. No toque la bolsa.',
  'start-motor': 'Ahora: ¿nadie cerca de la rueda? Entonces, iniciar.',
  'start-hand': 'Ahora: iniciar y girar la rueda.',
  'turning-motor': 'El banco se para solo al llegar al número de vueltas.',
  'turning-hand':
    'Siga girando de modo uniforme. La lámpara parpadea antes de la última vuelta y queda encendida al final.',
  'no-stand': 'El banco no responde. Si la rueda gira, use el botón de parada cableado en él.',
  settling: 'Espere: cae la última semilla y la bolsa se aquieta. No la toque.',
} as const;

export const verdicts = {
  right: 'El ajuste es correcto: todo el intervalo del 95 % queda dentro de la tolerancia.',
  high: 'Demasiada semilla: ajuste la sembradora para que dé menos.',
  low: 'Muy poca semilla: ajuste la sembradora para que dé más.',
  open: 'No se puede decidir: la incertidumbre pasa del borde de la tolerancia. Más vueltas u otro ensayo lo dirían.',
} as const;

export const verdictWords = {
  right: 'Dentro de la tolerancia',
  high: 'Demasiado',
  low: 'Muy poco',
  open: 'Sin decidir',
} as const;
