import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { here, mustPair } from '../../state/people.ts';

/** Parts of the page that are fetched only where others than this computer may come in. */
function later(isWanted: () => boolean, load: () => Promise<ComponentType>) {
  return function Later() {
    const [Part, setPart] = useState<ComponentType | null>(null);
    const wanted = isWanted();
    useEffect(() => {
      // Where it cannot be fetched now, it is tried again with the next state of affairs.
      if (wanted && Part === null)
        load().then(
          (part) => setPart(() => part),
          () => {},
        );
    }, [wanted, Part]);
    return wanted && Part !== null ? <Part /> : null;
  };
}

export const Pairing = later(
  () => mustPair.value,
  async () => (await import('./pairing-page.tsx')).PairingPage,
);
export const WhoHoldsTheWheel = later(
  () => here.value !== null,
  async () => (await import('./people-bar.tsx')).PeopleBar,
);
export const WhoIsHere = later(
  () => here.value !== null,
  async () => (await import('./people-panel.tsx')).PeoplePanel,
);
