import { effect, signal } from '@preact/signals';
import { live } from './store.ts';

/** The page as this device keeps it, so that it opens without the server, and how a new version of it takes over. */

/** Where the browser stands with keeping the page: not known yet; kept; or it cannot, which over plain http from another computer is the rule. */
export const keptPage = signal<'unknown' | 'kept' | 'cannot'>('unknown');
/** True while a new version of the page waits to be taken. */
export const newVersion = signal(false);

let waiting: ServiceWorker | null = null;
let taken = false;

/** Asks the browser to keep the page. Resolves once it is known whether it can. */
export async function keepPage(): Promise<void> {
  const { serviceWorker } = navigator as { serviceWorker?: ServiceWorkerContainer };
  if (serviceWorker === undefined) {
    keptPage.value = 'cannot';
    return;
  }
  try {
    const registration = await serviceWorker.register('./sw.js');
    serviceWorker.addEventListener('controllerchange', () => {
      if (taken) location.reload();
    });
    watch(registration);
    lookAfterRestarts(registration);
    await serviceWorker.ready;
    keptPage.value = 'kept';
  } catch {
    keptPage.value = 'cannot';
  }
}

function watch(registration: ServiceWorkerRegistration): void {
  const offer = (worker: ServiceWorker | null) => {
    // Without a page that is kept already, a new one is the first and needs no asking.
    if (worker === null || navigator.serviceWorker.controller === null) return;
    waiting = worker;
    newVersion.value = true;
  };
  offer(registration.waiting);
  registration.addEventListener('updatefound', () => {
    const worker = registration.installing;
    worker?.addEventListener('statechange', () => {
      if (worker.state === 'installed') offer(worker);
    });
  });
}

/** A server that was started again may have brought another page. */
function lookAfterRestarts(registration: ServiceWorkerRegistration): void {
  let known: string | null = null;
  effect(() => {
    const { startId } = live.value;
    if (startId === null || startId === known) return;
    if (known !== null) registration.update().catch(() => {});
    known = startId;
  });
}

/** Lets the new version take over and loads the page anew. What is being typed is kept by the browser and comes back. */
export function takeNewVersion(): void {
  taken = true;
  waiting?.postMessage({ type: 'SKIP_WAITING' });
}
