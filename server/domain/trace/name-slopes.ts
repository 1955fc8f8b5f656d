import type { Batch } from './batch.ts';
import { gramsPerTurnOf, smoothBefore } from './cell-trace.ts';
import { landingSeconds, muchLess } from './fall-findings.ts';
import type { Evidence, Finding, Instant } from './finding.ts';
import { add, sureness } from './found.ts';
import { type HistoryPoint, isDue, pointsOf, slopesSeen, withPoint } from './history.ts';
import { massSentences } from './mass-sentences.ts';
import type { MassTrace } from './mass-trace.ts';
import { type Bend, slopeChange, type Trend } from './slope-change.ts';
import { shakenShare } from './stops.ts';

/** Findings from the slope over the whole run: a catch per turn that creeps, or that bends where the bag touches something. */

export interface Slopes {
  /** Cells of which something has been said; -1 stands for all together. */
  named: readonly number[];
  /** Landed turns at which to look next. */
  next: number;
}

export const noSlopes: Slopes = { named: [], next: 0 };

/** Turns before the flow is even: fall, response, a wheel coming to speed. */
const onsetTurns = 1;
const lookTurns = 0.5;
/** Standard deviations that a change must show; the largest of many places and looks. */
const bendSigmas = 5.2;
const trendSigmas = 4.8;
/** By how much a bend must be likelier than a creeping slope, as a logarithm, before it is called one. */
const clearly = 2;
/** A bag that touches loses more than this share at once; a lesser bend must be likelier still. */
const mild = 0.75;
const mildMargin = 4;
/** A swing once a turn has more variance than the difference over some tenths of a second shows. */
const slowNoise = 2.5;
const slowestTurnsPerSecond = 0.2;
/** Part of a turn's catch by which the speed of the wheel and the fall may shift a point. */
const pointShare = 0.03;

/** Adds to the history and looks at it, every half turn of even flow. */
export function nameSlopes(state: MassTrace, batch: Batch): MassTrace {
  const { slopes, cells } = state;
  if (batch.phase !== 'turning' || batch.landed < slopes.next || !flowsEvenly(state, batch)) {
    return state;
  }
  const point = pointNow(state, batch);
  if (point === null) {
    return state;
  }
  const start = cells[0]?.start?.landed ?? 0;
  if (batch.landed - start < onsetTurns) {
    return state;
  }
  const examined = examine(
    { ...state, slopes: { ...slopes, next: batch.landed + lookTurns } },
    point,
    clearly,
  );
  const history = isDue(state.history, batch.landed) ? withPoint(state.history, point) : state.history;
  return { ...examined, history };
}

/** At the end the likelier of two shapes is named, though it be not clear. */
export function settleSlopes(state: MassTrace): MassTrace {
  const { points } = state.history;
  const last = points[points.length - 1];
  return last === undefined
    ? state
    : examine({ ...state, history: { ...state.history, points: points.slice(0, -1) } }, last, 0);
}

/** No cell is shaken, and the wheel turns: what shows now is what was metered half a second ago. */
function flowsEvenly({ cells }: MassTrace, batch: Batch): boolean {
  return (
    batch.landing > slowestTurnsPerSecond && cells.every((cell) => cell.sight.dead || cell.shake === null)
  );
}

function pointNow({ cells }: MassTrace, batch: Batch): HistoryPoint | null {
  const grams = cells.map((cell) =>
    cell.sight.dead || cell.stopped !== null ? null : (smoothNow(cell, batch) ?? null),
  );
  const scatter = cells.map(({ levels }) => {
    const newest = levels.slice(-5);
    return newest.reduce((sum, level) => sum + level.scatter, 0) / Math.max(1, newest.length);
  });
  return grams.every((value) => value === null)
    ? null
    : { seconds: batch.seconds, turns: batch.landed, grams, scatter };
}

function smoothNow({ levels }: MassTrace['cells'][number], batch: Batch): number | null {
  const newest = smoothBefore(levels, 0);
  return newest !== null && newest.seconds === batch.seconds ? newest.smooth : null;
}

/** Which cells a change concerns: -1 for all together. */
interface Change {
  who: number;
  bend: Bend | null;
  trend: Trend;
  points: HistoryPoint[];
}

function examine(state: MassTrace, now: HistoryPoint, margin: number): MassTrace {
  const { slopes, cells, history } = state;
  const points = [...history.points, now];
  const telling = cells.map((_, i) => i).filter((i) => now.grams[i] !== null);
  const whole = telling.length > 1 ? changeOf(state, points, telling, -1) : null;
  let next = state;
  if (whole !== null && isCommon(state, points, telling, whole)) {
    return name(next, whole, margin, telling);
  }
  for (const cell of telling) {
    if (slopes.named.includes(cell) || slopes.named.includes(-1)) {
      continue;
    }
    const change = changeOf(state, points, [cell], cell);
    if (change !== null) {
      next = name(next, change, margin, telling);
    }
  }
  return next;
}

function changeOf(state: MassTrace, points: HistoryPoint[], cells: number[], who: number): Change | null {
  if (state.slopes.named.includes(who)) {
    return null;
  }
  const { knowledge } = state;
  let variance = 0;
  for (const cell of cells) {
    const trace = state.cells[cell]!;
    variance += slowNoise * trace.moving.level.variance;
  }
  const rate = cells.reduce((sum, cell) => sum + gramsPerTurnOf(state.cells[cell]!, knowledge), 0);
  variance += (pointShare * rate) ** 2;
  const change = slopeChange(pointsOf(points, cells), knowledge.lumpinessGrams, variance);
  if (change === null) {
    return null;
  }
  const { bend, trend } = change;
  const beyond = Math.abs(bend?.sigmas ?? 0) > bendSigmas || Math.abs(trend.sigmas) > trendSigmas;
  return beyond ? { who, bend, trend, points } : null;
}

/** All cells changed alike: no single one makes up most of it. */
function isCommon(state: MassTrace, points: HistoryPoint[], telling: number[], whole: Change): boolean {
  const at = whole.bend?.at ?? Math.floor(points.length / 2);
  const sign = Math.sign(whole.bend?.sigmas ?? whole.trend.sigmas);
  const changes = telling.map((cell) => {
    const own = pointsOf(points, [cell]);
    const [first, middle, last] = [own[0]!, own[Math.min(at, own.length - 2)]!, own[own.length - 1]!];
    const before = (middle.grams - first.grams) / (middle.turns - first.turns);
    return sign * ((last.grams - middle.grams) / (last.turns - middle.turns) - before);
  });
  const sum = changes.reduce((total, change) => total + change, 0);
  return Math.max(...changes) < 0.6 * sum || state.cells.length === 1;
}

const likelihood = (sigmas: number): number => sigmas ** 2 / 2;

function name(state: MassTrace, change: Change, margin: number, telling: number[]): MassTrace {
  const { who, bend, trend } = change;
  // A bend has its place to choose freely, which a trend has not.
  const bent = bend === null ? 0 : likelihood(bend.sigmas) - 1.5;
  const crept = likelihood(trend.sigmas);
  const single = who >= 0 && bend !== null && bend.sigmas < 0;
  const needed = margin + (single && bend.after > mild * bend.before ? mildMargin : 0);
  if (single && margin > 0 && bent > crept && bent < crept + needed) {
    return state;
  }
  const touching = single && bent > crept && isBorne(change, bend);
  const blocked = single && bent > crept && !touching && telling.length > 1;
  const finding = touching
    ? touchingFinding(state, change, bend)
    : blocked
      ? blockedFinding(state, change, bend)
      : driftFinding(change, telling, bent > crept ? bend : null);
  return {
    ...state,
    found: add(state.found, finding),
    slopes: { ...state.slopes, named: [...state.slopes.named, who] },
  };
}

/** The bag is shaken by landing seed as much after the bend as before, or gets too much for a blocked tube. */
function isBorne({ who, points }: Change, bend: Bend): boolean {
  const mean = (some: HistoryPoint[]) =>
    some.reduce((sum, point) => sum + point.scatter[who]!, 0) / some.length;
  const share = bend.after / bend.before;
  if (share > muchLess) {
    return true;
  }
  return mean(points.slice(bend.at + 1)) / mean(points.slice(0, bend.at + 1)) > shakenShare(share);
}

const at = (point: HistoryPoint): Instant => ({
  turns: point.turns,
  seconds: point.seconds - landingSeconds,
});

/** The slopes seen, and the slope or slopes that they are held against. */
function picture(points: HistoryPoint[], cells: number[], bend: Bend | null): Evidence {
  const own = pointsOf(points, cells);
  const [first, last] = [own[0]!, own[own.length - 1]!];
  const mean = (last.grams - first.grams) / (last.turns - first.turns);
  const before = bend?.before ?? mean;
  const line = { role: 'expected' as const, x: [first.turns, last.turns], y: [before, before] };
  return { x: 'turns', y: 'grams-per-turn', series: [slopesSeen(own), line] };
}

function touchingFinding(state: MassTrace, { who, points }: Change, bend: Bend): Finding {
  const own = pointsOf(points, [who]);
  const start = state.cells[who]!.start?.smooth ?? 0;
  return {
    kind: 'bag-touching',
    cell: who,
    from: at(points[bend.at]!),
    until: null,
    sure: sureness(Math.abs(bend.sigmas)),
    spoils: true,
    evidence: picture(points, [who], bend),
    sentence: massSentences.touching(
      who,
      state.knowledge.cells,
      own[Math.min(bend.at, own.length - 1)]!.grams - start,
      1 - bend.after / bend.before,
    ),
  };
}

function blockedFinding(state: MassTrace, { who, points }: Change, bend: Bend): Finding {
  return {
    kind: 'tube-blocked',
    cell: who,
    from: at(points[bend.at]!),
    until: null,
    sure: sureness(Math.abs(bend.sigmas)),
    spoils: true,
    evidence: picture(points, [who], bend),
    sentence: massSentences.tubeBlocked(who, state.knowledge.cells, Math.max(0, bend.after / bend.before)),
  };
}

function driftFinding({ who, points, trend }: Change, telling: number[], bend: Bend | null): Finding {
  return {
    kind: 'flow-drifts',
    cell: who < 0 || telling.length === 1 ? null : who,
    from: at(points[bend?.at ?? 0]!),
    until: null,
    sure: sureness(Math.abs(bend?.sigmas ?? trend.sigmas)),
    spoils: true,
    evidence: picture(points, who < 0 ? telling : [who], bend),
    sentence: massSentences.drifts(
      bend === null ? trend.change : bend.after / bend.before - 1,
      bend !== null,
    ),
  };
}
