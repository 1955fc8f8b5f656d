import { advancePerTurn, rateFromCatch, targetCatch } from '../../server/domain/geometry.ts';
import {
  gramsPerSquareMetre,
  grams as inGrams,
  turns as inTurns,
  metres,
} from '../../server/domain/units.ts';
import type { LinkView, Plan } from '../../server/http/messages.ts';
import type { ChartPoint } from '../../server/records/types.ts';
import type { RunFigures as Figures, StandFacts } from '../../server/run/types.ts';

/** An invented drill, its plan, its stand and its runs, for looking at the page without any of them. */

export const plan: Plan = {
  drill: {
    name: 'Long-shed drill',
    setting: '28, fine gear',
    rowSpacingMetres: 0.1905,
    rowSpacingDoubtMetres: 0.001,
    circumferenceMetres: 2.6924,
    circumferenceDoubtMetres: 0.015,
    slip: 0.02,
    slipDoubt: 0.01,
  },
  rowsCaught: 1,
  seed: { name: 'Rye and vetch mix', seedMassGrams: 0.0312, repeatability: 0.01 },
  target: { gramsPerSquareMetre: 6.7, tolerance: 0.05 },
  turns: 25,
  mode: 'motor',
  plannedSpeedMetresPerSecond: 2.2,
};

/** The same with its setting scale, so that there is advice. */
export const scaledPlan: Plan = {
  ...plan,
  drill: {
    ...plan.drill,
    setting: '24',
    rowCount: 12,
    scale: {
      low: 0,
      high: 80,
      step: 1,
      closedAt: 0,
      leverPlay: 0.2,
      configuration: 'coarse gate',
      otherConfigurations: ['fine gate'],
    },
  },
};

/** Rate of the invented drill at a setting, as a share of the wanted one: just right at 32. */
export const shareAt = (setting: number): number => (setting + 4) / 36;

export const link: LinkView = {
  condition: 'connected',
  path: '/dev/ttyUSB0',
  sentence: 'The stand shed-1 is connected.',
  ageMillis: 12,
  board: {
    name: 'shed-1',
    firmware: '1.0.0',
    boot: 7,
    reset: 'P',
    cells: 1,
    pulsesPerTurn: 60,
    settings: 'ok',
  },
};

export const standFacts: StandFacts = {
  name: 'shed-1',
  firmware: '1.0.0',
  boot: 7,
  pulsesPerTurn: 60,
  cells: [{ gramsPerCount: 0.0025, zeroCount: 84_000 }],
};

const geometryOf = ({ drill, rowsCaught }: Plan) => ({
  circumference: metres(drill.circumferenceMetres),
  rowSpacing: metres(drill.rowSpacingMetres),
  rowsCaught,
  slip: drill.slip,
});

/** Figures of a run of `of` in this phase after so many turns, at `share` of the wanted rate. */
export function figuresOf(
  of: Plan,
  phase: Figures['phase'],
  turnsDone: number,
  share = 0.98,
  more: Partial<Figures> = {},
): Figures {
  const geometry = geometryOf(of);
  const wanted = gramsPerSquareMetre(of.target.gramsPerSquareMetre);
  const target = targetCatch(geometry, inTurns(of.turns), wanted);
  const known = phase !== 'idle' && phase !== 'taring';
  const caught = turnsDone === 0 ? 0 : share * targetCatch(geometry, inTurns(turnsDone), wanted);
  const rate = turnsDone < 1 ? null : rateFromCatch(geometry, inTurns(turnsDone), inGrams(caught));
  const spread = 0.012 + 0.06 / Math.sqrt(Math.max(1, turnsDone));
  const turning = phase === 'turning';
  return {
    phase,
    outcome: phase === 'finished' ? 'complete' : null,
    boardWhy: phase === 'finished' ? 'preset' : '-',
    turnsPreset: of.turns,
    turnsDone,
    turnsToGo: Math.max(0, of.turns - turnsDone),
    backwardTurns: 0,
    seconds: turnsDone * 2,
    grams: known ? caught : null,
    gramsDoubt: known ? 0.12 : null,
    targetCatchGrams: target,
    targetCatchLowGrams: target * (1 - of.target.tolerance),
    targetCatchHighGrams: target * (1 + of.target.tolerance),
    rate:
      rate === null
        ? null
        : {
            gramsPerSquareMetre: rate,
            standardDoubt: (rate * spread) / 2,
            low: rate * (1 - spread),
            high: rate * (1 + spread),
          },
    budget: rate === null ? [] : budget,
    turnsPerMinute: turning ? 30.2 : null,
    groundSpeedMetresPerSecond: turning ? (30.2 / 60) * advancePerTurn(geometry) : null,
    speed: null,
    forecast: null,
    verdict: null,
    findings: [],
    motorOn: turning && of.mode === 'motor',
    lostReadings: 0,
    gaps: [],
    sentence: sentences[phase],
    ...more,
  };
}

const sentences: Record<Figures['phase'], string> = {
  idle: 'No run yet. Set the plan, hang an empty bag, and get ready.',
  taring: 'Taring: do not touch the bag or the wheel.',
  ready: 'Ready. See that nobody is near the wheel, then press Start.',
  turning: 'The wheel is turning. Keep clear of it.',
  settling: 'The wheel stands. Do not touch the bag while the last seed settles.',
  finished: 'Done: 25.10 turns, 84.9 g caught.',
};

const budget: Figures['budget'] = [
  { part: 'weighing', relative: 0.0014, common: false },
  { part: 'scale', relative: 0.001, common: true },
  { part: 'turns', relative: 0.0003, common: false },
  { part: 'circumference', relative: 0.0056, common: true },
  { part: 'row-spacing', relative: 0.0052, common: true },
  { part: 'slip', relative: 0.0102, common: true },
  { part: 'seed-sampling', relative: 0.0192, common: false },
  { part: 'repeatability', relative: 0.01, common: false },
];

/** A chart up to so many turns, with the wobble of a fluted metering roll. */
export function traceTo(of: Plan, turnsDone: number, share = 0.98): ChartPoint[] {
  const points: ChartPoint[] = [];
  for (let turns = 0; turns <= turnsDone; turns += 0.05) {
    const { grams } = figuresOf(of, 'turning', turns, share);
    const wobble = 0.5 * Math.sin(turns * 9) + 0.2 * Math.sin(turns * 31);
    points.push([turns * 2, turns, Math.max(0, (grams ?? 0) + (turns > 0.3 ? wobble : 0))]);
  }
  return points;
}

const ramp = (from: number, to: number, of: (x: number) => number) => {
  const x = Array.from({ length: 16 }, (_, index) => from + ((to - from) * index) / 15);
  return { x, y: x.map(of) };
};

/** A finding that spoils a run, and one that does not. */
export const found: Figures['findings'] = [
  {
    kind: 'flow-drifts',
    cell: null,
    from: { turns: 2, seconds: 4 },
    until: null,
    sure: 0.93,
    spoils: false,
    evidence: {
      x: 'turns',
      y: 'grams-per-turn',
      series: [
        { role: 'seen', ...ramp(2, 12, (x) => 3.5 - 0.04 * x + 0.05 * Math.sin(3 * x)) },
        { role: 'expected', ...ramp(2, 12, () => 3.4) },
      ],
    },
    sentence:
      'The catch per turn crept down by 11 % over the run. Look at the level in the hopper and whether the mix separates: top it up, stir it and repeat.',
  },
  {
    kind: 'bag-touching',
    cell: 0,
    from: { turns: 6.2, seconds: 12.4 },
    until: { turns: 9.1, seconds: 18.2 },
    sure: 0.998,
    spoils: true,
    evidence: {
      x: 'turns',
      y: 'grams',
      series: [
        { role: 'seen', ...ramp(4, 12, (x) => (x < 6.2 ? 3.4 * x : 21 + (x - 6.2))) },
        { role: 'expected', ...ramp(4, 12, (x) => 3.4 * x) },
        { role: 'limit', ...ramp(4, 12, (x) => 3.2 * x) },
      ],
    },
    sentence:
      'From a catch of 21 g on the bag shows 18 % less a turn, all at once. Look whether it touches the floor or the frame; if it hangs free, its tube is partly blocked.',
  },
];

/** What a run on its way tells besides: where it will end, whether to go on, and how its speed was. */
export function foretold(of: Plan, turnsDone: number, share: number): Partial<Figures> {
  const { rate, targetCatchGrams } = figuresOf(of, 'turning', turnsDone, share);
  const mean = share * targetCatchGrams;
  const { gramsPerSquareMetre: told } = rate!;
  const inside = Math.abs(share - 1) < of.target.tolerance;
  return {
    forecast: {
      turns: of.turns,
      grams: mean,
      gramsLow: mean - 2.1,
      gramsHigh: mean + 2.1,
      gramsPerSquareMetre: told,
      low: told * 0.975,
      high: told * 1.025,
    },
    verdict: {
      kind: inside ? 'enough' : share > 1 ? 'too-much' : 'too-little',
      chanceInside: inside ? 0.97 : 0.003,
      factor: 1 / share,
      sentence: inside
        ? 'This run will end at 84.2 ± 1.3 g where 85.0 g are wanted: more turns would tell little more. You may stop now.'
        : 'This run will end at 70.1 ± 2.1 g where 87.7 g are wanted: the drill needs about 1.25 times its present rate. You may stop now and change the setting.',
    },
    speed: { lowTurnsPerMinute: 28, highTurnsPerMinute: 34, now: 'on-plan', shareOnPlan: 0.92 },
  };
}
