import type { Batch } from './batch.ts';
import {
  type CellTrace,
  gramsPerTurnOf,
  isSmooth,
  levelNoise,
  type Smooth,
  smoothBefore,
} from './cell-trace.ts';
import type { Finding, Instant } from './finding.ts';
import { add, end, isOpen, sureness } from './found.ts';
import type { History } from './history.ts';
import { massSentences } from './mass-sentences.ts';
import type { MassTrace } from './mass-trace.ts';
import { recentPicture } from './recent.ts';
import { type Fall, fallOf, type Remaining, recentShare, remainingSince, shakenAsEver } from './stops.ts';

/** Findings from flow that has fallen: the whole drill, one tube, or a bag that something bears. */

/** Seed leaves the meter so long before it shows. */
const landingSeconds = 0.45;
/** Shares of the usual flow on the other bags below which the whole drill has stopped, and above which it flows. */
const endingShare = 0.4;
const flowingShare = 0.65;
/** Turns after which a bag is taken to stand alone with its fall, though the others do not flow in full. */
const waitTurns = 3;
/** Turns within which all bags flow again after the whole drill has stopped. */
const returnTurns = 2;

/** The trace with what this batch tells of flows that have fallen or come back. */
export function nameFalls(state: MassTrace, batch: Batch): MassTrace {
  const falling = state.cells.some((cell) => cell.stopped !== null);
  const lessened = state.cells.some(({ full }) => full !== null);
  if (!falling && !lessened && !state.found.some(isOpenFall)) {
    return state;
  }
  const cells = batch.phase === 'turning' ? state.cells.map((cell) => ranDry(cell, state)) : state.cells;
  const closed = closeReturned({ ...state, cells }, batch);
  return closed.cells.some(({ stopped }) => stopped !== null)
    ? closed.cells.reduce(nameOne, { ...closed, history: withoutFalls(closed) })
    : closed;
}

/** A lessened flow that has gone on falling until next to nothing of the full one is left has stopped. */
function ranDry(cell: CellTrace, { knowledge }: MassTrace): CellTrace {
  const since = cell.levels.find(isSmooth);
  if (cell.full === null || cell.stopped !== null || since === undefined) {
    return cell;
  }
  const rate = { turns: usualTurns, grams: usualTurns * cell.full, newest: null };
  const asFull = { ...cell, rate, stopped: since };
  const left = remainingSince(asFull, since, knowledge);
  return left !== null && left.turns > 1 && left.share + left.doubt < dryShare
    ? { ...asFull, full: null }
    : cell;
}

const dryShare = 0.25;

/** The history without what was noted of a cell after its flow had fallen and before that was seen. */
function withoutFalls({ history, cells }: MassTrace): History {
  const newest = history.points[history.points.length - 1];
  const since = cells.map(({ stopped }) => stopped?.landed ?? Number.POSITIVE_INFINITY);
  if (newest === undefined || since.every((turns) => newest.turns <= turns)) {
    return history;
  }
  const points = history.points.map((point) =>
    since.some((turns) => point.turns > turns)
      ? { ...point, grams: point.grams.map((grams, i) => (point.turns > since[i]! ? null : grams)) }
      : point,
  );
  return { ...history, points };
}

const isOpenFall = ({ kind, until }: Finding): boolean =>
  until === null && (kind === 'flow-stopped' || kind === 'tube-blocked');

/** Ends what was stopped or blocked and flows again; the whole drill flows again when most of it does. */
function closeReturned(state: MassTrace, batch: Batch): MassTrace {
  let { found } = state;
  const now: Instant = { turns: batch.landed, seconds: batch.seconds - landingSeconds };
  const live = state.cells.filter(({ sight }) => !sight.dead);
  if (2 * live.filter(({ stopped }) => stopped === null).length > live.length) {
    found = end(found, 'flow-stopped', null, now);
  }
  for (const [index, cell] of state.cells.entries()) {
    if (cell.stopped === null && cell.full === null) {
      found = end(found, 'tube-blocked', index, now);
    }
  }
  return found === state.found ? state : { ...state, found };
}

function nameOne(state: MassTrace, cell: CellTrace, index: number): MassTrace {
  if (cell.stopped === null || isOpen(state.found, 'flow-stopped', null) || returning(state, cell)) {
    return state;
  }
  const remaining = remainingSince(cell, cell.stopped, state.knowledge);
  const fall = fallOf(cell, cell.stopped, state.knowledge);
  if (remaining === null || fall === 'unsure') {
    return state;
  }
  const others = state.cells.filter((other, i) => i !== index && !other.sight.dead);
  if (others.length === 0) {
    return fall === 'nothing' ? stopped(state, cell.stopped) : lessened(state, index, remaining);
  }
  return amongOthers(state, index, fall, remaining, others);
}

/** The whole drill has just begun to flow again: this bag has its time to follow. */
function returning({ found }: MassTrace, cell: CellTrace): boolean {
  const ends = found.filter(({ kind }) => kind === 'flow-stopped').map(({ until }) => until?.turns ?? 0);
  const now = cell.levels[cell.levels.length - 1]?.landed ?? 0;
  return ends.some((turns) => turns > cell.stopped!.landed && now - turns < returnTurns);
}

function amongOthers(
  state: MassTrace,
  index: number,
  fall: Fall,
  remaining: Remaining,
  others: readonly CellTrace[],
): MassTrace {
  const cell = state.cells[index]!;
  const share = recentShare(others, state.knowledge);
  if (share === null) {
    return state;
  }
  if (share < endingShare) {
    return fall === 'nothing' ? stopped(state, cell.stopped!) : state;
  }
  if (saidBefore(state.found, index)) {
    return state;
  }
  if (share < flowingShare && remaining.turns < waitTurns) {
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
  const { cells, slopes } = state;
  const grams = gramsPerTurnOf(cell, state.knowledge) * remaining.share;
  const rate = { turns: usualTurns, grams: usualTurns * grams, newest: null };
  const usual: CellTrace = {
    ...cell,
    stopped: null,
    rise: null,
    full: cell.full ?? gramsPerTurnOf(cell, state.knowledge),
    rate,
  };
  const next = {
    ...state,
    cells: cells.map((other, i) => (i === index ? usual : other)),
    slopes: { ...slopes, named: [...slopes.named, index] },
  };
  if (cell.full !== null || saidBefore(state.found, index)) {
    return next;
  }
  const fewer = remaining.share < muchLess && !shakenAsEver(cell, cell.stopped!, remaining.share);
  if (fewer && cells.length > 1) {
    return { ...next, found: blocked(state, index, remaining).found };
  }
  const creeping = ({ kind, cell: which, until }: Finding) =>
    kind === 'flow-drifts' && until === null && (which === index || cells.length === 1);
  const kept = state.found.filter((finding) => !creeping(finding));
  return { ...next, found: add(kept, lessenedFinding(state, index, remaining)) };
}

/** What is left to a bag whose tube is blocked is less. */
const muchLess = 0.33;
/** Turns for which the lesser flow counts. */
const usualTurns = 1.5;

const saidBefore = (found: readonly Finding[], index: number): boolean =>
  isOpen(found, 'bag-touching', index) || isOpen(found, 'tube-blocked', index);

function lessenedFinding(state: MassTrace, index: number, remaining: Remaining): Finding {
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
