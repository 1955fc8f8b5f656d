import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { addToRate, freshRate } from '../../server/domain/rate.ts';
import type { TraceReading } from '../../server/domain/trace/reading.ts';
import { addToTrace } from '../../server/domain/trace/trace.ts';
import { rateKnowledgeOf } from '../../server/run/plan.ts';
import { reduce } from '../../server/run/reduce.ts';
import type { RunState } from '../../server/run/state.ts';
import { freshTrace, traceReading } from '../../server/run/traced.ts';
import { ImaginedRun } from '../run/imagined.ts';
import { type Figure, judged } from './figures.ts';

/** What one reading costs while the wheel turns, and what a run of an hour keeps. */

/** Rounds: the first ones are spent on the compiler of Node, which a run of half a minute has behind it. */
const rounds = 15;

/** Microseconds of processor time for each of `count` steps, best of fifteen rounds: what else the machine does hardly counts. */
function microsEach(count: number, work: () => void): number {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round += 1) {
    const from = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(from);
    best = Math.min(best, (user + system) / count);
  }
  return best;
}

/** What the estimator and the trace are given of one reading. */
interface Step {
  micros: number;
  turns: number;
  grams: number | null;
  trace: TraceReading;
}

function stepOf(state: RunState): Step {
  const { now, start, stand } = state;
  const turns = (now!.net - start!.net) / stand!.pulsesPerTurn;
  return { micros: now!.micros, turns, grams: now!.grams, trace: traceReading(state, now!) };
}

/** A run on the imagined drill, with what each reading of its turning gives. States are not kept: they would only burden the collector. */
function turningOf(scenario: typeof oneRow) {
  const run = new ImaginedRun(scenario, 'speed');
  const steps: Step[] = [];
  run.start();
  const inputsBefore = run.inputs.length;
  const stateBefore = run.state;
  run.readUntil(() => {
    if (run.state.phase === 'turning') steps.push(stepOf(run.state));
    return run.state.phase === 'settling';
  });
  const readings = run.inputs.slice(inputsBefore).filter((input) => input.type === 'reading');
  return { stateBefore, steps, readings };
}

function costs(scenario: typeof oneRow, cells: number): Figure[] {
  const { stateBefore, steps, readings } = turningOf(scenario);
  const plan = stateBefore.plan!;
  const knowledge = rateKnowledgeOf(plan, stateBefore.tare!);
  const estimating = microsEach(steps.length, () => {
    let rate = freshRate(knowledge);
    for (const [index, { micros, turns, grams }] of steps.entries()) {
      rate = addToRate(rate, micros, turns, index < 96 ? null : grams);
    }
  });
  const tracing = microsEach(steps.length, () => {
    let trace = freshTrace(plan, stateBefore.stand!);
    for (const step of steps) trace = addToTrace(trace, step.trace);
  });
  const encoding = microsEach(readings.length, () => {
    let length = 0;
    for (const { reading } of readings) length += JSON.stringify(reading).length;
    if (length === 0) throw new Error('nothing was encoded');
  });
  const whole = microsEach(readings.length, () => {
    let state = stateBefore;
    for (const reading of readings) state = reduce(state, reading).state;
  });
  const how = `${cells === 1 ? 'one cell' : `${cells} cells`}, ${steps.length} readings of a turning wheel, processor time, best of fifteen`;
  const both = estimating + tracing;
  const id = `reading-${cells}-cells`;
  return [
    judged({ id: `${id}-rate`, value: estimating, unit: 'µs', how: `the rate alone; ${how}` }),
    judged({ id: `${id}-trace`, value: tracing, unit: 'µs', how: `the trace alone; ${how}` }),
    judged({ id, value: both, unit: 'µs', aim: '<= 20', how: `rate and trace together; ${how}` }),
    judged({
      id: `${id}-over-json`,
      value: both,
      unit: 'µs',
      reference: encoding,
      how: `reference: JSON.stringify of the same reading; ${how}`,
    }),
    judged({ id: `${id}-reducer`, value: whole, unit: 'µs', how: `the whole reducer; ${how}` }),
  ];
}

/** Bytes of the whole state as JSON after five minutes and after an hour of turning. */
function memory(): Figure {
  const hour = { ...oneRow, stated: { ...oneRow.stated, turns: 2900 } };
  const run = new ImaginedRun(hour, 'hour');
  run.start();
  const bytesAfter = (seconds: number) => {
    const turned = () => {
      const { now, start } = run.state;
      return start === null ? 0 : (now!.micros - start.micros) / 1e6;
    };
    run.readUntil(() => turned() >= seconds, 4000);
    run.inputs.length = 0;
    return JSON.stringify(run.state).length;
  };
  const early = bytesAfter(300);
  return judged({
    id: 'state-after-an-hour',
    value: bytesAfter(3600),
    unit: 'bytes',
    reference: early,
    aim: '<= 1.1',
    how: 'the state of a run as JSON after an hour of turning; reference: after five minutes',
  });
}

/** The figures of this file. */
export const readingCosts = (): Figure[] => [...costs(oneRow, 1), ...costs(sixRows, 6), memory()];
