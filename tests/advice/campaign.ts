import { chanceAt } from '../../server/domain/advice/choice.ts';
import { rateAt, rateInterval } from '../../server/domain/advice/curve.ts';
import { type ImaginedDrill, imagineDrill, ordinaryWorld, rateAtMark, type World } from './drills.ts';
import {
  byAdvice,
  byHand,
  type Ending,
  proportionOnStand,
  type Statement,
  secantOnStand,
  tolerance,
} from './methods.ts';

/** Many imagined drills, each calibrated in several ways. */

export const ways = ['by hand', 'proportion', 'secant', 'advice'] as const;
export type Way = (typeof ways)[number];

/** One drill's fate in every way. */
export interface Fate {
  endings: Record<Way, Ending>;
  /** Relative: run-to-run spread, seed sampling included. */
  runNoise: number;
  /** What half a step of the scale makes at the right setting, relative. */
  halfStep: number;
  /** Relative: what the lever's play makes there, standard. */
  play: number;
}

/** A stated probability and whether it came true. */
export interface Said {
  /** Runs made so far. */
  runs: number;
  stated: number;
  right: boolean;
}

/** An interval of the setting chart and where it was asked. */
export interface ChartCheck {
  runs: number;
  place: 'between' | 'just outside';
  held: boolean;
}

/** How many more runs were foretold, and how many it took. */
export interface Foretold {
  runs: number;
  said: number;
  took: number;
}

export interface Outcome {
  fates: Fate[];
  /** Of the setting where the lever stands, after each run. */
  said: Said[];
  /** At the end of each calibration that was called done. */
  saidAtEnd: Said[];
  chart: ChartCheck[];
  foretold: Foretold[];
}

/** What the advice's interval of the rate says, two marks between the measured ones and one or two just outside, checked. */
function checkChart(drill: ImaginedDrill, { runs, curve, request }: Statement): ChartCheck[] {
  const settings = request.runs.map(({ setting }) => setting);
  const low = Math.min(...settings);
  const high = Math.max(...settings);
  const outside = 0.15 * (high - low);
  const places: [ChartCheck['place'], number][] = [
    ['between', low + (high - low) / 3],
    ['between', low + (2 * (high - low)) / 3],
    ['just outside', low - outside],
    ['just outside', high + outside],
  ];
  return places.flatMap(([place, where]) => {
    const mark = drill.step * Math.round(where / drill.step);
    if (mark < 0 || mark > drill.high || high - low < 4 * drill.step) return [];
    const interval = rateInterval(rateAt(curve, mark, 'anew'));
    const truth = rateAtMark(drill, mark);
    return [{ runs, place, held: interval.low <= truth && truth <= interval.high }];
  });
}

function calibrate(world: World, seed: string, index: number, outcome: Outcome): Fate {
  // Each way gets the same drill with the same chance: the stream begins anew.
  const drill = () => imagineDrill(world, seed, index);
  const own = drill();
  const charts = imagineDrill(world, `${seed} charts`, index).random;
  const foretold: Foretold[] = [];
  const advice = byAdvice(own, (statement, lever) => {
    const { curve, request, runs, stop } = statement;
    const right = Math.abs(lever.trueRate() / own.target - 1) <= tolerance;
    outcome.said.push({ runs, stated: chanceAt(curve, request, curve.standingSetting!, true), right });
    outcome.chart.push(...checkChart({ ...own, random: charts }, statement));
    if (stop.moreRuns !== null && !stop.done) foretold.push({ runs, said: stop.moreRuns, took: 0 });
    if (stop.done) outcome.saidAtEnd.push({ runs, stated: stop.probability, right });
  });
  if (advice.how === 'done') {
    const end = outcome.saidAtEnd[outcome.saidAtEnd.length - 1]!;
    end.right = Math.abs(advice.error) <= tolerance;
    outcome.foretold.push(...foretold.map((each) => ({ ...each, took: advice.runs - each.runs })));
  }
  const { meter, step, target, common, sampling } = own;
  const right = (target / (1 + common) - meter.offsetGrams) / meter.gramsPerMark;
  const slope = meter.gramsPerMark + 2 * right * meter.bendGramsPerMarkSquared;
  return {
    endings: {
      'by hand': byHand(drill()),
      proportion: proportionOnStand(drill()),
      secant: secantOnStand(drill()),
      advice,
    },
    runNoise: Math.hypot(meter.repeatability, sampling),
    halfStep: (0.5 * step * slope) / target,
    play: (meter.leverPlayMarks * slope) / target,
  };
}

/** `drills` imagined drills from `seed`: what became of them, and of what the advice said on the way. */
export function campaign(seed: string, drills: number, world: World = ordinaryWorld): Outcome {
  const outcome: Outcome = { fates: [], said: [], saidAtEnd: [], chart: [], foretold: [] };
  for (let index = 0; index < drills; index += 1) {
    outcome.fates.push(calibrate(world, seed, index, outcome));
  }
  return outcome;
}
