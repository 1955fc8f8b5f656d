import {
  type CellTrace,
  gramsPerTurnOf,
  isSmooth,
  levelNoise,
  type Smooth,
  smoothBefore,
} from './cell-trace.ts';
import type { Finding, Instant } from './finding.ts';
import { add, sureness } from './found.ts';
import { massSentences } from './mass-sentences.ts';
import type { MassTrace } from './mass-trace.ts';
import { recentPicture } from './recent.ts';
import { type Remaining, shakenAsEver } from './stops.ts';

/** What is said of a flow that has fallen: the whole drill, one tube, or a bag that something bears. */

/** Seed leaves the meter so long before it shows. */
export const landingSeconds = 0.45;
/** What is left to a bag whose tube is blocked is less. */
export const muchLess = 0.33;

const metered = ({ landed, seconds }: Smooth): Instant => ({
  turns: landed,
  seconds: seconds - landingSeconds,
});

/** By how many standard deviations the catch since then is short of what was due. */
function shortBy(cell: CellTrace, since: Smooth, state: MassTrace): number {
  const now = smoothBefore(cell.levels, 0) ?? since;
  const due = gramsPerTurnOf(cell, state.knowledge) * (now.landed - since.landed);
  const noise = Math.hypot(
    Math.SQRT2 * levelNoise(cell),
    Math.sqrt(state.knowledge.lumpinessGrams * Math.max(0, due)),
  );
  return (due - (now.smooth - since.smooth)) / noise;
}

/** The catch as it would have gone on. */
function wouldBe(state: MassTrace, cells: readonly CellTrace[], since: Smooth) {
  const now = smoothBefore(cells[0]!.levels, 0) ?? since;
  const sum = (of: (cell: CellTrace) => number) => cells.reduce((total, cell) => total + of(cell), 0);
  const y = sum((cell) => (cell.stopped ?? since).smooth + cell.offset);
  const slope = sum((cell) => gramsPerTurnOf(cell, state.knowledge));
  const to = { x: now.turns, y: y + slope * (now.landed - since.landed) };
  return { role: 'expected', from: { x: since.turns, y }, to } as const;
}

/** The trace with the whole drill stopped: every cell with it, and what was taken for something else taken back. */
export function stopped(state: MassTrace, since: Smooth): MassTrace {
  const cells = state.cells.map((cell) => stoppedWith(cell, since));
  const live = cells.filter((cell) => cell.stopped !== null);
  const finding: Finding = {
    kind: 'flow-stopped',
    cell: null,
    from: metered(since),
    until: null,
    sure: sureness(Math.max(...live.map((cell) => shortBy(cell, since, state)))),
    spoils: true,
    evidence: recentPicture(state.recent, 'turns', state.cells.length === 1 ? 0 : null, [
      wouldBe(state, live, since),
    ]),
    sentence: massSentences.flowStopped(state.cells.length),
  };
  const kept = state.found.filter((earlier) => !isPrelude(earlier, since));
  return { ...state, cells, found: add(kept, finding) };
}

/** The cell taken to have stopped with the others. */
function stoppedWith(cell: CellTrace, since: Smooth): CellTrace {
  const own = cell.levels.find((level) => isSmooth(level) && level.landed >= since.landed);
  return cell.stopped !== null || !isSmooth(own)
    ? cell
    : { ...cell, stopped: own, rise: null, falls: [null, null] };
}

/** What went on just before and looked like something else was the same coming to an end. */
const preludeTurns = 4;
const isPrelude = ({ kind, from, until }: Finding, since: Smooth): boolean =>
  until === null &&
  (kind === 'tube-blocked'
    ? from.turns > since.landed - preludeTurns
    : kind === 'bag-touching' || kind === 'flow-drifts');

/** The trace with one tube blocked. */
export function blocked(state: MassTrace, index: number, { share }: Remaining): MassTrace {
  const cell = state.cells[index]!;
  const since = cell.stopped!;
  return {
    ...state,
    found: add(state.found, {
      kind: 'tube-blocked',
      cell: index,
      from: metered(since),
      until: null,
      sure: sureness(shortBy(cell, since, state)),
      spoils: true,
      evidence: recentPicture(state.recent, 'turns', index, [wouldBe(state, [cell], since)]),
      sentence: massSentences.tubeBlocked(index, state.knowledge.cells, Math.max(0, share)),
    }),
  };
}

/** What is said of a bag that shows less than before, steadily. */
export function lessenedFinding(state: MassTrace, index: number, remaining: Remaining): Finding {
  const cell = state.cells[index]!;
  const since = cell.stopped!;
  const bearing = remaining.share >= muchLess || shakenAsEver(cell, since, remaining.share);
  const count = state.knowledge.cells;
  const lost = 1 - remaining.share;
  const caught = since.smooth - (cell.start?.smooth ?? 0);
  return {
    kind: bearing ? 'bag-touching' : 'flow-drifts',
    cell: bearing ? index : null,
    from: metered(since),
    until: null,
    sure: sureness(shortBy(cell, since, state)),
    spoils: true,
    evidence: recentPicture(state.recent, 'turns', index, [wouldBe(state, [cell], since)]),
    sentence: bearing
      ? massSentences.touching(index, count, caught, lost)
      : massSentences.drifts(-lost, true),
  };
}
