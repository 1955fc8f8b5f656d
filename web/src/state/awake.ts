import { effect, signal } from '@preact/signals';
import { mayTurn } from './acts.ts';
import { live } from './store.ts';

/** Keeps the screen on while the wheel may turn, where the browser can (W3C Screen Wake Lock; only over https or from the same computer). */

/** True where the screen cannot be kept on: the browser does not know how, or has refused. */
export const mayGoDark = signal(false);

export function keepAwake(): void {
  const { wakeLock } = navigator as { wakeLock?: WakeLock };
  if (wakeLock === undefined) {
    mayGoDark.value = true;
    return;
  }
  let held: WakeLockSentinel | null = null;
  let asking = false;
  const hold = async () => {
    if (held !== null || asking || document.visibilityState !== 'visible') return;
    asking = true;
    try {
      const lock = await wakeLock.request('screen');
      lock.addEventListener('release', () => {
        held = null;
      });
      held = lock;
      mayGoDark.value = false;
    } catch {
      mayGoDark.value = true;
    }
    asking = false;
    if (!mayTurn(live.peek())) letGo();
  };
  const letGo = () => {
    held?.release().catch(() => {});
    held = null;
  };
  effect(() => {
    if (mayTurn(live.value)) void hold();
    else letGo();
  });
  // The browser lets go by itself when the page is out of sight.
  document.addEventListener('visibilitychange', () => {
    if (mayTurn(live.peek())) void hold();
  });
}
