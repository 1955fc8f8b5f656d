import type { Batch } from './batch.ts';
import { type CellTrace, gramsPerTurnOf, levelNoise } from './cell-trace.ts';
import type { Finding, Instant } from './finding.ts';
import { add, end, isOpen, sureness } from './found.ts';
import { massSentences } from './mass-sentences.ts';
import type { MassTrace } from './mass-trace.ts';
import { isQuietAgain, noiseBeyond, noiseLimit } from './noisy.ts';
import { type Line, recentPicture } from './recent.ts';
import type { Touch } from './shake.ts';

/** Findings that each cell gives by itself: hands on the bag, a dead cell, a leak, noise. */

/** `before`: the cells at the batch before this one; `touches`: what this batch showed of each. */
export function nameAlarms(
  state: MassTrace,
  before: readonly CellTrace[],
  batch: Batch,
  touches: readonly (Touch | null)[],
): MassTrace {
  let { found } = state;
  for (const [index, cell] of state.cells.entries()) {
    const earlier = before[index]!;
    const touch = touches[index];
    if (touch) {
      found = withTouch(found, state, index, touch);
    }
    if (cell.sight.dead !== earlier.sight.dead) {
      found = cell.sight.dead
        ? add(found, deadFinding(state, index, batch))
        : end(found, 'cell-dead', index, instant(batch));
    }
    if (cell.leaking !== earlier.leaking) {
      found = cell.leaking
        ? add(found, leakFinding(state, index))
        : end(found, 'leak', index, instant(batch));
    }
    found = withNoise(found, state, index, batch);
  }
  return found === state.found ? state : { ...state, found };
}

const instant = ({ turns, seconds }: { turns: number; seconds: number }): Instant => ({ turns, seconds });

/** A line from one second to another at the same grams. */
const level = (role: Line['role'], from: number, to: number, y: number): Line => ({
  role,
  from: { x: from, y },
  to: { x: to, y },
});

/** Relative difference within which something taken off is what was laid on. */
const sameStep = 0.3;

function withTouch(
  found: readonly Finding[],
  { knowledge, recent, cells }: MassTrace,
  index: number,
  touch: Touch,
): readonly Finding[] {
  const cell = cells[index]!;
  const { cells: count } = knowledge;
  const shown = (cell.levels[cell.levels.length - 1]?.grams ?? 0) + cell.offset;
  const stepped = touch.step !== 0;
  if (
    stepped &&
    isOpen(found, 'bag-leaned-on', index) &&
    Math.abs(cell.offset) < sameStep * Math.abs(touch.step)
  ) {
    return end(found, 'bag-leaned-on', index, touch.from);
  }
  const lines = [level('expected', touch.from.seconds, touch.until.seconds, shown - touch.step)];
  return add(found, {
    kind: stepped ? 'bag-leaned-on' : 'bag-knocked',
    cell: index,
    from: touch.from,
    until: stepped ? null : touch.until,
    sure: stepped ? sureness(Math.abs(touch.step) / (Math.SQRT2 * levelNoise(cell))) : 0.999,
    spoils: stepped,
    evidence: recentPicture(recent, 'seconds', index, lines),
    sentence: stepped
      ? massSentences.leanedOn(index, count, touch.step)
      : massSentences.knocked(index, count),
  });
}

function deadFinding({ knowledge, recent, cells }: MassTrace, index: number, batch: Batch): Finding {
  const { sight } = cells[index]!;
  const back = Math.max(sight.blind, sight.same);
  const first = recent[Math.max(0, recent.length - 1 - back)] ?? batch;
  return {
    kind: 'cell-dead',
    cell: index,
    from: instant(first),
    until: null,
    sure: 0.999,
    spoils: true,
    evidence: recentPicture(recent, 'seconds', index),
    sentence: massSentences.dead(index, knowledge.cells, sight.blind === 0),
  };
}

function leakFinding({ knowledge, recent, cells }: MassTrace, index: number): Finding {
  const cell = cells[index]!;
  const { since, grams } = cell.leak!;
  const now = cell.levels[cell.levels.length - 1]!;
  const perSecond = grams / (now.seconds - since.seconds);
  const shown = since.smooth + cell.offset;
  return {
    kind: 'leak',
    cell: index,
    from: { turns: now.turns, seconds: since.seconds },
    until: null,
    sure: sureness(grams / (Math.SQRT2 * levelNoise(cell))),
    spoils: true,
    evidence: recentPicture(recent, 'seconds', index, [level('expected', since.seconds, now.seconds, shown)]),
    sentence: massSentences.leak(index, knowledge.cells, perSecond),
  };
}

function withNoise(
  found: readonly Finding[],
  { knowledge, recent, cells }: MassTrace,
  index: number,
  batch: Batch,
): readonly Finding[] {
  const cell = cells[index]!;
  const gramsPerTurn = gramsPerTurnOf(cell, knowledge);
  const limit = noiseLimit(gramsPerTurn, knowledge.lumpinessGrams, gramsPerTurn * batch.landing);
  if (isOpen(found, 'scale-noisy', index)) {
    return isQuietAgain(cell, limit) ? end(found, 'scale-noisy', index, instant(batch)) : found;
  }
  const sigma = noiseBeyond(cell, limit);
  if (sigma === null) {
    return found;
  }
  const first = cell.levels[cell.levels.length - 12]!;
  const middle = cell.levels[cell.levels.length - 1]!.grams + cell.offset;
  const bounds = [-limit, limit].map((off) => level('limit', first.seconds, batch.seconds, middle + off));
  return add(found, {
    kind: 'scale-noisy',
    cell: index,
    from: instant(first),
    until: null,
    sure: 0.99,
    spoils: true,
    evidence: recentPicture(recent, 'seconds', index, bounds),
    sentence: massSentences.noisy(index, knowledge.cells, sigma),
  });
}
