import {
  type CellTrace,
  gramsPerTurnOf,
  isSmooth,
  type Level,
  levelNoise,
  type Smooth,
  smoothBefore,
} from './cell-trace.ts';
import type { TraceKnowledge } from './reading.ts';

/**
 * What a fall of the flow of one cell is: nothing comes any more, or less than before. Whether it is one tube, one bag or the whole
 * drill, the other cells tell; whether a bag that shows less gets less, the shaking by landing seed tells.
 */

/** How much of the usual catch still shows on a cell since its flow fell, with the standard deviation of that share. */
export interface Remaining {
  share: number;
  doubt: number;
  /** Turns since the fall. */
  turns: number;
}

/** Turns after the fall for which seed already on its way still lands. */
const lateTurns = 0.2;

/** What still comes, from where the fall began but over the newest `window` turns at most; null until there is something to tell it by. */
export function remainingSince(
  cell: CellTrace,
  since: Level,
  knowledge: TraceKnowledge,
  window = Number.POSITIVE_INFINITY,
): Remaining | null {
  const now = smoothBefore(cell.levels, 0);
  const earliest = Math.max(since.landed + lateTurns, (now?.landed ?? 0) - window);
  const from = cell.levels.find((level) => level.smooth !== null && level.landed >= earliest);
  if (now === null || from === undefined || now.landed - from.landed < 0.25) {
    return null;
  }
  const due = gramsPerTurnOf(cell, knowledge) * (now.landed - from.landed);
  const share = (now.smooth - (from as Smooth).smooth) / due;
  const noise = 2 * levelNoise(cell) ** 2 + knowledge.lumpinessGrams * due * Math.max(0.1, share);
  return { share, doubt: Math.sqrt(noise) / due, turns: now.landed - since.landed };
}

const recentTurns = 0.5;

/** Share of the usual flow that several cells together have had over the newest half turn; null when that is not to be told. */
export function recentShare(cells: readonly CellTrace[], knowledge: TraceKnowledge): number | null {
  let came = 0;
  let due = 0;
  for (const cell of cells) {
    const now = smoothBefore(cell.levels, 0);
    const from =
      now && cell.levels.findLast((level) => isSmooth(level) && level.landed <= now.landed - recentTurns);
    if (now && isSmooth(from ?? undefined)) {
      came += now.smooth - (from as Smooth).smooth;
      due += gramsPerTurnOf(cell, knowledge) * (now.landed - from!.landed);
    }
  }
  return due > 0 ? came / due : null;
}

export type Fall = 'nothing' | 'less' | 'unsure';

const nothingShare = 0.3;
/** So little is nothing, though the bag be shaken. */
const surelyNothing = 0.12;
/** Turns over which what comes now is looked at. */
const newestTurns = 0.8;
/** A flow that has fallen is called lessened, not ending, when it has held for so many turns. */
const steadyTurns = 1.7;
const longestWait = 6;

/** Whether nothing comes, or steadily less than before. */
export function fallOf(cell: CellTrace, since: Level, knowledge: TraceKnowledge): Fall {
  const newest = remainingSince(cell, since, knowledge, newestTurns);
  if (newest === null) {
    return 'unsure';
  }
  const { share, doubt, turns } = newest;
  const quiet = share < surelyNothing || !shakenAsEver(cell, since, share) || stillFalling(cell, newest);
  if (share + 0.8 * doubt < nothingShare && (quiet || turns > longestWait)) {
    return 'nothing';
  }
  if (turns < steadyTurns || share < surelyNothing) {
    return 'unsure';
  }
  return stillFalling(cell, newest) && turns < longestWait ? 'unsure' : 'less';
}

/** The second half of what is kept since the fall gave clearly less than the first: the hopper is running dry. */
function stillFalling(cell: CellTrace, { doubt }: Remaining): boolean {
  const smooth = cell.levels.filter(
    (level): level is Smooth => level.smooth !== null && level.landed >= cell.stopped!.landed + lateTurns,
  );
  const [first, middle, last] = [smooth[0], smooth[Math.floor(smooth.length / 2)], smooth[smooth.length - 1]];
  if (first === undefined || middle === undefined || last === undefined) {
    return false;
  }
  const early = (middle.smooth - first.smooth) / Math.max(0.05, middle.landed - first.landed);
  const late = (last.smooth - middle.smooth) / Math.max(0.05, last.landed - middle.landed);
  return late < 0.6 * early && doubt < 0.3;
}

/** Share of the usual shaking above which a bag that shows the share `left` of its usual catch still gets all of it. */
export function shakenShare(left: number): number {
  return Math.min(0.65, (1 + 2 * Math.max(0, left)) / 3);
}

/** True when the bag is shaken by landing seed as much as ever: seed comes, and something bears the bag. */
export function shakenAsEver(cell: CellTrace, since: Level, share: number): boolean {
  const later = cell.levels.filter((level) => level.landed >= since.landed + lateTurns);
  const mean = later.reduce((sum, level) => sum + level.scatter, 0) / later.length;
  return mean / cell.moving.scatter.variance > shakenShare(share);
}
