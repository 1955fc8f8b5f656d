export const scale = {
  readsTooMuch:
    '{what} marca {grams} de más: ¿es la pesa correcta y no toca nada? Pésela de nuevo o déjela fuera.',
  readsTooLittle:
    '{what} marca {grams} de menos: ¿es la pesa correcta y no toca nada? Pésela de nuevo o déjela fuera.',
  noLine:
    'Las pesadas no están en ninguna recta. Una de estas es falsa: {which}. Pese una pesa más para ver cuál.',
  scatter:
    'Las pesadas se apartan demasiado de una recta: la que más, {what}, en {grams}. Busque algo flojo o que toque, déjela colgar quieta y empiece de nuevo.',
  tooLight:
    'Las pesas son demasiado ligeras para el ruido de esta báscula: su pendiente queda incierta en un {share}.',
  weighUpTo: 'Pese hasta unos {grams}, más veces, o calme antes la báscula.',
  twoNamed: 'Dos pesas patrón se llaman {name}: dé un nombre a cada una.',
  onlyOnce: 'Una pesa patrón solo puede estar una vez a la vez en la báscula.',
  noneNamed: 'Ninguna pesa patrón se llama {name}.',
  noneNamedHere: 'Ninguna pesa patrón de esta comprobación se llama {name}.',
  weighEmpty: 'Pese también la báscula vacía: sin cero no hay recta.',
  secondMass:
    'Una pesa patrón y el cero siempre dan una recta, cierta o falsa: pese una segunda, distinta, mejor cinco.',
  countsRise:
    'Las cuentas suben al crecer la carga: la célula está al revés o dos de sus hilos están cambiados. Arréglelo, o diga que es así a propósito.',
  countsFall:
    'Las cuentas bajan al crecer la carga: la célula está al revés o dos de sus hilos están cambiados. Arréglelo, o diga que es así a propósito.',
  noMore:
    'Con {more} la báscula no muestra más que con {less}. Compruebe qué pesa es cuál, y que nada toque.',
  noClass:
    'Las clases de pesas van por 1, 2 y 5, de 1 g a 5 kg: para {grams} indique en su lugar la masa y su incertidumbre.',
  fewMasses: 'Solo {count} cargas distintas: cinco muestran mucho mejor una pesa falsa o una curvatura.',
  noReturn: 'Ninguna pesada bajando: no se sabe si la báscula vuelve por donde fue.',
  spanBelowUse:
    'Se van a pesar cargas de hasta {heaviest}, pero las pesas solo llegan a {span}: más allá la recta es una conjetura.',
  hysteresisMore:
    'En {load} la báscula muestra {grams} más bajando que subiendo: busque roce, una bolsa o un cable que toque, un tornillo flojo.',
  hysteresisLess:
    'En {load} la báscula muestra {grams} menos bajando que subiendo: busque roce, una bolsa o un cable que toque, un tornillo flojo.',
  zeroHigher: 'La báscula vacía volvió {grams} más arriba: deriva, fluye o se pega.',
  zeroLower: 'La báscula vacía volvió {grams} más abajo: deriva, fluye o se pega.',
  bends:
    'La báscula se curva: una curva se aparta {grams} de la recta, y las pesadas solo se dispersan {scatter} en torno a ella. Calibre sobre las cargas que pesa.',
  creeps: 'En {load} la lectura aún se movía {grams} mientras se promediaba: espere más, o la célula fluye.',
  oddMuch:
    'De todas las pesas, esta es la que peor encaja con las otras: {what}, con {grams} de más. ¿Es la correcta?',
  oddLittle:
    'De todas las pesas, esta es la que peor encaja con las otras: {what}, con {grams} de menos. ¿Es la correcta?',
  slopeNotZero: 'La pendiente de la báscula no debe ser 0.',
  valuesMissing:
    'El {share} de las lecturas llegó sin valor: revise el enchufe de la célula y la alimentación del convertidor.',
  clipped:
    'El {share} de las lecturas está al final del rango del convertidor: demasiada carga o un hilo roto.',
  slow: '{rate} lecturas por segundo en lugar de {wanted}: revise el puente de cadencia del convertidor y la línea.',
  gap: 'No llegó ninguna lectura durante {seconds}: revise el cable entre placa y ordenador.',
  stuck: 'Todas las lecturas son iguales: convertidor o célula muertos, pues uno vivo siempre tiembla.',
  coarse: 'Las lecturas toman pocos valores: el convertidor no resuelve su propio ruido.',
  noisy:
    'Las lecturas se dispersan {grams} en lugar de {wanted}: busque vibración, viento, red cerca del cable de la célula.',
  drifts:
    'La carga deriva {grams} por minuto: deje calentar la célula, aparte sol y corrientes, busque algo que resbale.',
  driftUnclear: 'Aún no se puede decir si la carga deriva: déjela quieta y mire más tiempo.',
  silent: 'No llegó ninguna lectura: revise cable, puerto y alimentación.',
  tooShort: '{count} lecturas son muy pocas para juzgar una báscula: mírela diez segundos o más.',
  noZeroYet: 'Aún no hay peso para tomar el cero: deje quieta la báscula un segundo.',
  cells: 'Este banco tiene {count} células.',
  fullCheck: 'Esta comprobación tiene tantas pesadas como puede tener: guárdela o empiece otra.',
  weighingAlready: 'Ya se está pesando.',
  otherStand: 'Esta comprobación se hizo en el banco «{one}», no en «{other}».',
  noWriting: 'Este banco no acepta valores de la página: guarde la comprobación sin escribir.',
  noWeight: 'La báscula no dio ningún peso: revise el enchufe de la célula, y que el banco esté conectado.',
  noScale: 'No hay báscula a la que preguntar.',
  runUnderWay: 'Hay un ensayo en curso en esta báscula.',
  noCheck: 'No hay ninguna comprobación de la báscula en curso.',
  sayHowSure: 'Diga a cuánto es segura la masa, en gramos: a un décimo de ella como mucho.',
} as const;

export const scaleParts = {
  theMass: 'la pesa de {mass}',
  TheMass: 'La pesa de {mass}',
  emptyScale: 'la báscula vacía',
  EmptyScale: 'La báscula vacía',
  weighing: 'la {ordinal} pesada ({mass})',
  Weighing: 'La {ordinal} pesada ({mass})',
  byGrams: '{what} en {grams}',
  first: 'primera',
  second: 'segunda',
  third: 'tercera',
  fourth: 'cuarta',
  fifth: 'quinta',
  sixth: 'sexta',
  seventh: 'séptima',
  eighth: 'octava',
  ninth: 'novena',
  laterOrdinal: '{number}.ª',
  tooLittle: 'demasiado poco',
  tooMuch: 'demasiado',
} as const;
