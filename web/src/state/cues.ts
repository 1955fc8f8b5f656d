import type { RunView } from '../../../server/http/messages.ts';

/** What is to be heard: that one of the last turns begins, or that the count is full. */
export type Cue = 'turn' | 'end';

/** So many turns before the end are heard. */
export const heardTurns = 3;

type Heard = Pick<RunView['figures'], 'phase' | 'turnsDone' | 'turnsPreset'>;

/** What is to be heard between two looks at a run turned by hand; null for nothing. Turns given back and turned again are heard again. */
export function cueBetween(before: Heard, after: Heard): Cue | null {
  if (before.phase !== 'turning') return null;
  const { turnsPreset } = after;
  const crossed = (mark: number) => before.turnsDone < mark && after.turnsDone >= mark;
  if (crossed(turnsPreset)) return 'end';
  for (let left = 1; left <= heardTurns; left++) if (crossed(turnsPreset - left)) return 'turn';
  return null;
}
