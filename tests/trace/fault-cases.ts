import type { Fault } from '../../firmware-sim/drill/faults.ts';
import { lumpGrams, type Scenario, settingCurve } from '../../firmware-sim/drill/scenario.ts';
import type { FindingKind } from '../../server/domain/trace/finding.ts';
import { type Case, cleanCase, Draws } from './clean-scenarios.ts';

/** Drills with one thing wrong, its strength, place and time drawn at random, and from when on it ought to be seen. */

export interface FaultCase extends Case {
  kind: FindingKind;
  /** Bag that the finding must name; null for the whole. */
  cell: number | null;
  /** True once the fault has taken effect by more than the noise. Asked at every reading. */
  effective(now: Now): boolean;
  /** Findings besides that are true as well. */
  alsoTrue: readonly FindingKind[];
}

/** Where the run is. */
export interface Now {
  turns: number;
  seconds: number;
  /** Seconds for which the wheel has stood with no reason for seed to fall; 0 while it turns. */
  restSeconds: number;
  gramsMetered: number;
  /** What one bag really has caught. */
  gramsCaught(cell: number): number;
}

interface Made {
  case: Case;
  draw: Draws;
  /** Expected grams per turn over one cell, and the lumpiness, grams. */
  gramsPerTurn: number;
  lump: number;
  cell: number;
  turns: number;
}

/**
 * A flow that ends is seen within a turn and a half where a turn's catch is at least eight times what the bag's swing and the wheel's
 * rocking put on the scale, and as much as thirty seeds (mass-weighted). Below that it takes longer: the threshold over the catch.
 */
export function isInSight({ case: { scenario }, gramsPerTurn }: Made): boolean {
  const { swingGrams, oncePerTurnGrams } = scenario.vibration;
  const noise = Math.hypot(swingGrams, oncePerTurnGrams / Math.SQRT2);
  return gramsPerTurn >= Math.max(8 * noise, 30 * lumpGrams(scenario.mix));
}

/** The first case in sight. */
function inSight(seed: string, wish: Parameters<typeof cleanCase>[1] = {}): Made {
  for (let turn = 0; ; turn++) {
    const it = made(`${seed}/${turn}`, wish);
    if (isInSight(it)) return it;
  }
}

export function made(seed: string, wish: Parameters<typeof cleanCase>[1] = {}): Made {
  const draw = new Draws(`fault ${seed}`);
  const base = cleanCase(seed, { turns: Math.round(draw.across(10, 60)), ...wish });
  const { scenario } = base;
  return {
    case: base,
    draw,
    gramsPerTurn: settingCurve(scenario.meter, 0) * scenario.rowsPerCell,
    lump: scenario.meter.packing * lumpGrams(scenario.mix),
    cell: Math.floor(scenario.cells * draw.between(0, 1)),
    turns: base.course.turns,
  };
}

/** Somewhere in the run, when the rate is known and there is time left to see. */
const somewhere = ({ draw, turns }: Made): number => draw.between(3, turns - 3);

function withFault({ case: base }: Made, fault: Fault): Case {
  return { ...base, scenario: { ...base.scenario, faults: [fault] } };
}

const fromTurn =
  (afterTurns: number) =>
  ({ turns }: Now): boolean =>
    turns >= afterTurns;

function bridged(seed: string): FaultCase {
  const it = inSight(seed);
  const afterTurns = somewhere(it);
  const lasting = it.draw.chance(0.5) ? {} : { forTurns: it.draw.between(2, 5) };
  const base = withFault(it, { kind: 'seed-bridges', afterTurns, ...lasting });
  return { ...base, kind: 'flow-stopped', cell: null, effective: fromTurn(afterTurns), alsoTrue: [] };
}

function neverFlows(seed: string): FaultCase {
  const it = inSight(seed);
  const base = withFault(it, { kind: 'seed-bridges', afterTurns: 0 });
  return { ...base, kind: 'flow-stopped', cell: null, effective: fromTurn(0.05), alsoTrue: [] };
}

/** Counts as empty from when it gives less than a fifth of what it did. */
function hopperEmpty(seed: string): FaultCase {
  const it = inSight(seed);
  const all = it.gramsPerTurn * it.case.scenario.cells;
  const grams = all * it.draw.between(4, Math.max(4.5, 0.6 * it.turns));
  const starvesBelowGrams = all * it.draw.across(0.2, 4.5);
  const hopper = { grams, headEffect: 0, starvesBelowGrams };
  return {
    ...it.case,
    scenario: { ...it.case.scenario, hopper },
    kind: 'flow-stopped',
    cell: null,
    effective: ({ gramsMetered }) => grams - gramsMetered < starvesBelowGrams / 5,
    alsoTrue: [],
  };
}

function tubeBlocked(seed: string): FaultCase {
  const it = inSight(seed, { cells: 6 });
  const afterTurns = somewhere(it);
  const share = it.draw.chance(0.7) ? 1 : it.draw.between(0.9, 1);
  const base = withFault(it, { kind: 'tube-blocked', cell: it.cell, share, afterTurns });
  return { ...base, kind: 'tube-blocked', cell: it.cell, effective: fromTurn(afterTurns), alsoTrue: [] };
}

/** What a leak must give in two seconds to be told from a late seed and the scale's noise. */
const leastLeak = ({ lump, case: { scenario } }: Made): number =>
  (0.15 + 6 * lump + 3 * scenario.vibration.swingGrams) / 1.5;

function leakBefore(seed: string): FaultCase {
  const it = made(seed);
  const gramsPerSecond = leastLeak(it) * it.draw.across(1, 3);
  const base = withFault(it, { kind: 'leak', cell: it.cell, gramsPerSecond, afterTurns: 0 });
  return {
    ...base,
    kind: 'leak',
    cell: it.cell,
    effective: ({ restSeconds }) => restSeconds > 0.6,
    alsoTrue: ['flow-drifts'],
  };
}

/** Begins while the wheel turns, where a leak cannot be told from a larger flow, and shows once it stands. */
function leakAfter(seed: string): FaultCase {
  const it = made(seed);
  const gramsPerSecond = leastLeak(it) * it.draw.across(1, 3);
  const afterTurns = it.draw.between(it.turns / 2, it.turns);
  const base = withFault(it, { kind: 'leak', cell: it.cell, gramsPerSecond, afterTurns });
  return {
    ...base,
    course: { ...base.course, afterSeconds: 9 },
    kind: 'leak',
    cell: it.cell,
    effective: ({ turns, restSeconds }) => turns >= afterTurns && restSeconds > 0,
    alsoTrue: ['flow-drifts'],
  };
}

function knocked(seed: string): FaultCase {
  const it = made(seed);
  const standing = it.draw.chance(0.15);
  const afterTurns = standing ? 0 : somewhere(it);
  const afterSeconds = standing ? it.draw.between(1, 2.5) : 0;
  const grams = Math.max(6, 2 * it.gramsPerTurn) * it.draw.across(1, 10);
  const base = withFault(it, { kind: 'bag-knocked', cell: it.cell, grams, afterTurns, afterSeconds });
  const effective = ({ turns, seconds }: Now) => turns >= afterTurns && seconds >= afterSeconds;
  return { ...base, kind: 'bag-knocked', cell: it.cell, effective, alsoTrue: [] };
}

function leanedOn(seed: string): FaultCase {
  const it = made(seed);
  const afterTurns = somewhere(it);
  const up = it.draw.chance(0.5);
  const least = up ? Math.max(4, 1.5 * it.gramsPerTurn) : Math.max(5, 3 * it.gramsPerTurn);
  const grams = (up ? 1 : -1) * least * it.draw.across(1, 8);
  const base = withFault(it, { kind: 'bag-leaned-on', cell: it.cell, grams, afterTurns });
  return { ...base, kind: 'bag-leaned-on', cell: it.cell, effective: fromTurn(afterTurns), alsoTrue: [] };
}

function cellDead(seed: string): FaultCase {
  const it = made(seed);
  const afterTurns = it.draw.between(0.5, it.turns - 2);
  const kind = it.draw.chance(0.5) ? 'cell-loose' : 'cell-stuck';
  const base = withFault(it, { kind, cell: it.cell, afterTurns });
  return { ...base, kind: 'cell-dead', cell: it.cell, effective: fromTurn(afterTurns), alsoTrue: [] };
}

/** Shaking by more than a third of a turn's catch, and by more than landing seed gives. */
function benchShakes(seed: string): FaultCase {
  const it = made(seed);
  const afterTurns = it.draw.chance(0.3) ? 0 : somewhere(it);
  const perSecond = (it.gramsPerTurn * it.case.scenario.drive.turnsPerMinute) / 60;
  const limit = Math.hypot(Math.max(it.gramsPerTurn / 3, 0.4), Math.sqrt(10 * it.lump * perSecond));
  const base = withFault(it, { kind: 'bench-shakes', grams: limit * it.draw.across(1.3, 4), afterTurns });
  return { ...base, kind: 'scale-noisy', cell: it.cell, effective: fromTurn(afterTurns), alsoTrue: [] };
}

/** Standard deviations that a change must show to be seen in 95 runs of 100: the threshold, and 1.645 for the chance. */
const seenSigmas = 5.2 + 1.645;

/**
 * Takes effect when the slopes before and after differ by `seenSigmas`: lumpiness x slope per turn on either side (the better known,
 * the more turns), and a hundredth of a turn's catch squared for the scale.
 */
function touching(seed: string): FaultCase {
  const it = made(seed, { turns: Math.round(new Draws(`turns ${seed}`).across(15, 80)) });
  const { gramsPerTurn, lump, cell } = it;
  const bendTurns = it.turns * it.draw.between(0.25, 0.6);
  const aboveGrams = gramsPerTurn * bendTurns;
  const share = it.draw.between(0.3, 0.55);
  const base = withFault(it, { kind: 'bag-touches', cell, aboveGrams, share, afterTurns: 0 });
  let since: number | null = null;
  return {
    ...base,
    kind: 'bag-touching',
    cell,
    effective: ({ turns, gramsCaught }) => {
      if (since === null && gramsCaught(cell) > aboveGrams) since = turns;
      if (since === null || turns - since < 0.5) return false;
      const after = turns - since;
      const noise =
        lump * gramsPerTurn * (1 / since + 1 / after) + scaleVariance(it, 1) * 2 * (1 / after) ** 2;
      return (share * gramsPerTurn) / Math.sqrt(noise) > seenSigmas;
    },
    alsoTrue: [],
  };
}

/** What the scale's own noise and the swing of the speed do to one point of a run, several cells together, grams². */
function scaleVariance({ case: { scenario }, gramsPerTurn }: Made, cells: number): number {
  const { swingGrams, oncePerTurnGrams, whiteGrams } = scenario.vibration;
  const own = swingGrams ** 2 + oncePerTurnGrams ** 2 + whiteGrams ** 2 / 24;
  return 2.5 * cells * own + (0.03 * cells * gramsPerTurn) ** 2;
}

/**
 * The hopper's head falls, and the flow with it. A slope that creeps by the share d over n turns at r grams a turn stands out by
 * d / sqrt(12 lumpiness / (r n) + 80 w / (r n)²) standard deviations, w the scale's variance: least squares, and its two end points.
 */
function drifting(seed: string): FaultCase {
  const it = made(seed, { turns: Math.round(new Draws(`turns ${seed}`).across(25, 100)) });
  const { scenario } = it.case;
  const all = it.gramsPerTurn * scenario.cells;
  const headEffect = it.draw.between(0.3, 0.7);
  const hopper = { grams: 1.3 * all * it.turns, headEffect, starvesBelowGrams: all };
  return {
    ...it.case,
    scenario: { ...scenario, hopper },
    kind: 'flow-drifts',
    cell: null,
    effective: ({ turns, gramsMetered }) => {
      const change = (headEffect * gramsMetered) / hopper.grams;
      const span = Math.max(0.5, turns - 1.5);
      const noise =
        (12 * it.lump) / (all * span) + (80 * scaleVariance(it, scenario.cells)) / (all * span) ** 2;
      return change / Math.sqrt(noise) > seenSigmas;
    },
    alsoTrue: [],
  };
}

export const faultKinds = {
  'seed bridges': bridged,
  'nothing from the start': neverFlows,
  'hopper runs empty': hopperEmpty,
  'one tube of six blocked': tubeBlocked,
  'leak before the start': leakBefore,
  'leak after the end': leakAfter,
  'bag knocked': knocked,
  'bag leaned on or lifted': leanedOn,
  'bag touches': touching,
  'flow drifts': drifting,
  'cell dead or stuck': cellDead,
  'bench shakes': benchShakes,
} as const;
export type FaultName = keyof typeof faultKinds;

/** What cannot be seen under the noise of a drill, by the same formulas, in sentences: `turns` long, a fault that begins half-way. */
export function limitsOf(
  { meter, mix, vibration, cells, rowsPerCell, name }: Scenario,
  turns: number,
): string[] {
  const lump = meter.packing * lumpGrams(mix);
  const perTurn = settingCurve(meter, meter.setting) * rowsPerCell;
  const noise = Math.hypot(vibration.swingGrams, vibration.oncePerTurnGrams / Math.SQRT2);
  const scale = 2.5 * (vibration.swingGrams ** 2 + vibration.oncePerTurnGrams ** 2);
  const all = perTurn * cells * turns;
  const drift = seenSigmas * Math.sqrt((12 * lump) / all + (80 * cells * scale) / all ** 2);
  const half = turns / 2;
  const bend = seenSigmas * Math.sqrt((2 * lump * perTurn) / half + (6 * scale) / half ** 2);
  const percent = (share: number) => `${(100 * share).toFixed(0)} %`;
  const here = `${name}, ${turns} turns`;
  return [
    `${here}: a creeping flow is seen in 95 of 100 runs from ${percent(drift)} over the run on`,
    `${here}: a bag that touches half-way, from ${percent(bend / perTurn)} of its catch per turn on`,
    `${here}: a stopped flow within a turn and a half where a turn gives ${Math.max(8 * noise, 30 * lumpGrams(mix)).toFixed(1)} g or more (here ${perTurn.toFixed(1)} g)`,
    `${here}: a leak within two seconds from ${((0.15 + 6 * lump + 3 * vibration.swingGrams) / 1.5).toFixed(2)} g/s on; a lesser one later, below 0.01 g/s never`,
  ];
}
