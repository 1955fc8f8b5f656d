import type { readingFlags } from '../link/readings.ts';
import type { RunState } from './state.ts';

type Flags = typeof readingFlags;

/** The bits of a reading's flags that a run looks at; the types hold them to those of the link. */
const bits: Pick<Flags, 'motorOn' | 'stopOpen'> = { motorOn: 0x01, stopOpen: 0x04 };

/** True when the newest reading carries the flag. */
export function hasFlag(state: RunState, flag: keyof typeof bits): boolean {
  return ((state.now?.flags ?? 0) & bits[flag]) !== 0;
}
