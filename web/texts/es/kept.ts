export const kept = {
  newVersion: 'Hay una nueva versión de esta página. Lo que ha escrito se conserva.',
  takeIt: 'Usarla ahora',
  withoutTitle: 'Abierta sin Catchbench',
  without:
    'La página viene de lo que este dispositivo ha guardado; no hay noticias de Catchbench desde que se abrió. Plan, ensayos y cifras vuelven solos en cuanto se le alcance.',
  title: 'Sin conexión',
  here: 'Este dispositivo guarda la página: se abre también sin red y entonces espera a Catchbench.',
  cannot:
    'Este navegador no guarda la página: necesita a Catchbench cada vez que se abre. Los navegadores solo guardan páginas del mismo ordenador o por https.',
  looking: 'Comprobando si este navegador puede guardar la página …',
} as const;
