import type { Batch } from './batch.ts';
import { type CellTrace, gramsPerTurnOf, levelNoise, type Smooth, smoothBefore } from './cell-trace.ts';
import type { Finding, Instant } from './finding.ts';
import { add, end, isOpen, sureness } from './found.ts';
import { massSentences } from './mass-sentences.ts';
import type { MassTrace } from './mass-trace.ts';
import { recentPicture } from './recent.ts';
import { type Fall, fallOf, type Remaining, remainingSince, shakenAsEver } from './stops.ts';

/** Findings from flow that has fallen: the whole drill, one tube, or a bag that something bears. */

/** Seed leaves the meter so long before it shows. */
const landingSeconds = 0.45;
/** Turns after which a cell that stands alone with its fall is taken to stand alone. */
const waitTurns = 1.4;

export function nameFalls(state: MassTrace, batch: Batch): MassTrace {
  const falling = state.cells.some((cell) => cell.stopped !== null);
  if (!falling && !state.found.some(isOpenFall)) {
    return state;
  }
  const closed = closeReturned(state, batch);
  return falling ? state.cells.reduce(nameOne, closed) : closed;
}

const isOpenFall = ({ kind, until }: Finding): boolean =>
  until === null && (kind === 'flow-stopped' || kind === 'tube-blocked');

/** Ends what was stopped or blocked and flows again. */
function closeReturned(state: MassTrace, batch: Batch): MassTrace {
  let { found } = state;
  const now: Instant = { turns: batch.landed, seconds: batch.seconds - landingSeconds };
  for (const [index, cell] of state.cells.entries()) {
    if (cell.stopped === null && !cell.reduced) {
      found = end(found, 'tube-blocked', index, now);
      found = end(found, 'flow-stopped', null, now);
    }
  }
  return found === state.found ? state : { ...state, found };
}

function nameOne(state: MassTrace, cell: CellTrace, index: number): MassTrace {
  if (cell.stopped === null || isOpen(state.found, 'flow-stopped', null)) {
    return state;
  }
  const remaining = remainingSince(cell, cell.stopped, state.knowledge);
  const fall = remaining === null ? 'unsure' : fallOf(cell, remaining);
  if (remaining === null || fall === 'unsure') {
    return state;
  }
  const others = othersSince(state, index, cell.stopped);
  if (others.length === 0) {
    return fall === 'nothing' ? stopped(state, cell.stopped) : lessened(state, index, remaining);
  }
  return amongOthers(state, index, fall, remaining, others);
}

/** What still comes on each of the other live cells since then. */
function othersSince({ cells, knowledge }: MassTrace, index: number, since: Smooth): (Remaining | null)[] {
  return cells
    .filter((cell, i) => i !== index && !cell.sight.dead)
    .map((cell) => remainingSince(cell, since, knowledge));
}

function amongOthers(
  state: MassTrace,
  index: number,
  fall: Fall,
  remaining: Remaining,
  others: readonly (Remaining | null)[],
): MassTrace {
  const cell = state.cells[index]!;
  const shares = others.map((other) => other?.share ?? 1).sort((a, b) => a - b);
  const flowing = shares.filter((share) => share > 0.5).length;
  if (fall === 'nothing' && flowing === 0 && shares.every((share) => share < 0.4)) {
    return stopped(state, cell.stopped!);
  }
  if (2 * flowing <= others.length && remaining.turns < waitTurns + 2) {
    return state;
  }
  if (isOpen(state.found, 'tube-blocked', index)) {
    return state;
  }
  return fall === 'nothing' ? blocked(state, index, remaining) : lessened(state, index, remaining);
}

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

function stopped(state: MassTrace, since: Smooth): MassTrace {
  const live = state.cells.filter((cell) => !cell.sight.dead);
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
  return {
    ...state,
    found: add(
      state.found.filter((earlier) => !isPrelude(earlier, since)),
      finding,
    ),
  };
}

/** What went on just before and looked like something else was the same coming to an end. */
const preludeTurns = 4;
const isPrelude = ({ kind, from, until }: Finding, since: Smooth): boolean =>
  until === null &&
  (kind === 'tube-blocked'
    ? from.turns > since.landed - preludeTurns
    : kind === 'bag-touching' || kind === 'flow-drifts');

function blocked(state: MassTrace, index: number, { share }: Remaining): MassTrace {
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

/** Less shows than before, steadily: something bears part of the bag, or less comes. From now on the lesser flow is the usual one. */
function lessened(state: MassTrace, index: number, remaining: Remaining): MassTrace {
  const cell = state.cells[index]!;
  const since = cell.stopped!;
  const { cells, knowledge } = state;
  const bearing = shakenAsEver(cell, since, remaining.share);
  const grams = gramsPerTurnOf(cell, knowledge) * remaining.share;
  const usual: CellTrace = {
    ...cell,
    stopped: null,
    rise: null,
    reduced: true,
    rate: { turns: 1.5, grams: 1.5 * grams, newest: null },
  };
  const next = { ...state, cells: cells.map((other, i) => (i === index ? usual : other)) };
  if (!bearing && cells.length > 1) {
    return { ...blocked(state, index, remaining), cells: next.cells };
  }
  const start = cell.start?.smooth ?? 0;
  const lost = 1 - remaining.share;
  const finding: Finding = {
    kind: bearing ? 'bag-touching' : 'flow-drifts',
    cell: index,
    from: metered(since),
    until: null,
    sure: sureness(shortBy(cell, since, state)),
    spoils: true,
    evidence: recentPicture(state.recent, 'turns', index, [wouldBe(state, [cell], since)]),
    sentence: bearing
      ? massSentences.touching(index, knowledge.cells, since.smooth - start, lost)
      : massSentences.drifts(-lost, true),
  };
  return { ...next, found: add(state.found, finding) };
}
