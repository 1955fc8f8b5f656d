import type { Batch } from './batch.ts';
import { type CellTrace, gramsPerTurnOf, isSmooth } from './cell-trace.ts';
import { blocked, landingSeconds, lessenedFinding, muchLess, stopped } from './fall-findings.ts';
import type { Finding, Instant } from './finding.ts';
import { add, end, isOpen } from './found.ts';
import type { History } from './history.ts';
import type { MassTrace } from './mass-trace.ts';
import { type Fall, fallOf, type Remaining, recentShare, remainingSince, shakenAsEver } from './stops.ts';

/** Which fall of the flow is what: asks the other bags whether it is the whole drill or one tube, and waits where it is unsure. */

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

/** Turns for which the lesser flow counts. */
const usualTurns = 1.5;

const saidBefore = (found: readonly Finding[], index: number): boolean =>
  isOpen(found, 'bag-touching', index) || isOpen(found, 'tube-blocked', index);
