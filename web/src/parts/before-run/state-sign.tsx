import type { BeforeRunView } from '../../../../server/http/before-run-messages.ts';
import { say } from '../../state/say.ts';

const drawings: Record<BeforeRunView['seen'][number]['state'], string> = {
  good: 'M5 13l5 5 9-12',
  open: 'M12 4a8 8 0 1 0 .01 0',
  wrong: 'M12 2L22 12 12 22 2 12zM12 8v5M12 16v.5',
  unknown: 'M5 12h14',
};

/** A sign for the state of an item, told apart by shape, with its word for those who hear the page. */
export function StateSign({ state }: { state: BeforeRunView['seen'][number]['state'] }) {
  return (
    <svg class="state-sign" viewBox="0 0 24 24" role="img" aria-label={say.beforeRun.states[state]}>
      <path d={drawings[state]} />
    </svg>
  );
}
