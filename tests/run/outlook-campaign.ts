import { drawScenario, type Scenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { slopeEstimate } from '../../server/domain/rate.ts';
import { outlookOf } from '../../server/run/outlook.ts';
import { figures } from '../../server/run/reduce.ts';
import { uniformsFrom } from '../domain/draws.ts';
import { ImaginedRun } from './imagined.ts';

/** What the imagined drill's runs show while they turn, held against how they end and what is true. Seeded: the same figures every time. */

/** The drill with its lever where it delivers `share` of the wanted rate in the long run. */
function delivering(share: number, scenario: Scenario): Scenario {
  const { geometry, stated, meter } = scenario;
  const area = (geometry.circumferenceMetres / (1 - geometry.slip)) * geometry.rowSpacingMetres;
  const setting = (share * stated.targetGramsPerSquareMetre * area - meter.offsetGrams) / meter.gramsPerMark;
  return { ...scenario, meter: { ...meter, setting } };
}

/** A run of the rate alone: the trace has its own tests. */
function started(scenario: Scenario, seed: string): ImaginedRun {
  const run = new ImaginedRun(scenario, seed);
  run.state = { ...run.state, trace: null };
  run.start();
  return run;
}

/** Share of the preset turns made so far. */
const progress = ({ state }: ImaginedRun) =>
  state.start === null ? 0 : (state.now!.net - state.start.net) / state.presetPulses;

/** How one run was judged on the way, and how it ended. */
export interface Judged {
  /** Part of its turns after which it was first called a miss, and which way. */
  called: { at: number; kind: 'too-little' | 'too-much' } | null;
  /** Rate at its end over the target, less 1. */
  off: number;
  /** Whether that lies inside the tolerance. */
  passed: boolean;
}

/** A run of which the verdict is read each time that it can have changed. */
function judged(scenario: Scenario, seed: string): Judged {
  const run = started(scenario, seed);
  let called: Judged['called'] = null;
  let batches = -2;
  run.readUntil(() => {
    const { state } = run;
    const now = state.rate?.bank.batches ?? batches;
    if (called === null && state.phase === 'turning' && now !== batches) {
      batches = now;
      const kind = outlookOf(state, state.plan!, state.stand!).verdict?.kind;
      if (kind === 'too-little' || kind === 'too-much') called = { at: progress(run), kind };
    }
    return state.phase === 'finished';
  });
  const { target } = run.state.plan!;
  const off = figures(run.state).rate!.gramsPerSquareMetre / target.gramsPerSquareMetre - 1;
  return { called, off, passed: Math.abs(off) <= target.tolerance };
}

const drills = { 'by motor': oneRow, 'by hand': byHand } as const;

/** Runs that miss by 20 to 40 %, either way. */
export function missing(drill: keyof typeof drills, runs: number): Judged[] {
  const uniform = uniformsFrom(20);
  const found: Judged[] = [];
  for (let seed = 1; found.length < runs; seed += 1) {
    const share = 1 + (seed % 2 === 0 ? -1 : 1) * (0.2 + 0.2 * uniform());
    const run = judged(delivering(share, drills[drill]), `miss ${seed}`);
    if (Math.abs(run.off) >= 0.2) found.push(run);
  }
  return found;
}

/** Runs from drills that deliver 88 to 112 % of the target, any share alike: the tolerance is 5 % either way. */
export function near(runs: number, from = 1): Judged[] {
  return Array.from({ length: runs }, (_, index) => {
    const seed = from + index;
    const share = 0.88 + 0.24 * ((seed * 0.618034) % 1);
    return judged(delivering(share, oneRow), `near ${seed}`);
  });
}

/** Errors of one run's final rate, each relative to what the drill really gave. */
export interface Compared {
  /** Against what the meter let go in this run for each turn that the wheel really made. */
  ours: number;
  hand: number;
  /** Against the drill's long-run delivery in this run, which no single catch can know better than its seeds allow. */
  oursLongRun: number;
  handLongRun: number;
}

/** The stand against a bag on a kitchen scale (whole grams) and counting aloud, where one turn in ten is missed or counted twice. */
export function againstHand(runs: number): Compared[] {
  return Array.from({ length: runs }, (_, index) => comparedWithHand(index + 1));
}

function comparedWithHand(seed: number): Compared {
  const uniform = uniformsFrom(seed);
  const run = started(oneRow, `hand ${seed}`);
  const from = run.drill.truth.turns();
  run.readUntil(() => run.state.phase === 'finished');
  const { truth } = run.drill;
  const { state } = run;
  const turned = truth.turns() - from;
  let counted = 0;
  for (let turn = 1; turn <= Math.round(turned); turn += 1) {
    const slip = uniform();
    counted += slip < 0.05 ? 0 : slip < 0.1 ? 2 : 1;
  }
  const { circumferenceMetres, slip, rowSpacingMetres } = state.plan!.drill;
  const area = (circumferenceMetres / (1 - slip)) * rowSpacingMetres;
  const ours = figures(state).rate!.gramsPerSquareMetre * area;
  const hand = Math.round(truth.gramsCaught()) / counted;
  const given = truth.gramsMetered() / turned;
  const longRun = truth.gramsPerTurn * truth.runFactor;
  return {
    ours: ours / given - 1,
    hand: hand / given - 1,
    oursLongRun: ours / longRun - 1,
    handLongRun: hand / longRun - 1,
  };
}

/**
 * Relative error of the live rate after 20, 50 and 98 % of the turns against the seed that landed while it was watched, for each turn that this seed
 * came from. So the lumps of seed hardly blur it: what is left is bias and the scale's noise.
 */
export function liveErrors(drill: keyof typeof drills, runs: number): number[][] {
  return Array.from({ length: runs }, (_, index) => {
    const run = started(drawScenario(drills[drill], `live drill ${index}`), `live ${index}`);
    const turnsAt: number[] = [];
    let seen = -1;
    const fall = Math.round(run.drill.scenario.fall.seconds * run.drill.scenario.converter.hertz);
    const readUntil = (over: () => boolean) =>
      run.readUntil(() => {
        const { micros } = run.state.now!;
        if (micros !== seen) turnsAt.push(run.drill.truth.turns());
        seen = micros;
        return over();
      });
    const landed = () => ({ grams: run.drill.truth.gramsCaught(), turns: turnsAt.at(-1 - fall)! });
    readUntil(() => run.state.rate !== null && run.state.rate.firstTurns !== null);
    const first = landed();
    return [0.2, 0.5, 0.98].map((part) => {
      readUntil(() => progress(run) >= part);
      // Just as a batch is taken in, as at the beginning.
      const { followed } = run.state.rate!.batches;
      readUntil(() => run.state.rate!.batches.followed !== followed);
      const now = landed();
      const given = (now.grams - first.grams) / (now.turns - first.turns);
      return slopeEstimate(run.state.rate!)!.gramsPerTurn / given - 1;
    });
  });
}
