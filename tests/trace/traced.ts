import { createDrill, type Drill } from '../../firmware-sim/drill/drill.ts';
import { lumpGrams, type Scenario, settingCurve } from '../../firmware-sim/drill/scenario.ts';
import { idealBoard } from '../../firmware-sim/ideal-board.ts';
import type { TraceKnowledge, TraceReading } from '../../server/domain/trace/reading.ts';
import { addToTrace, endOfTrace, noTrace, type TraceState } from '../../server/domain/trace/trace.ts';
import { isGoodCount } from '../../server/domain/weighing.ts';
import type { Reading } from '../../server/link/readings.ts';

/** Runs on the imagined drill over an ideal board, read along by the trace alone: no reducer, no link. */

/** How a run is made: seconds at rest, turns asked for, seconds at rest after the board has stopped. */
export interface Course {
  beforeSeconds: number;
  turns: number;
  afterSeconds: number;
}

/** What a user of this drill would know, whose idea of the catch is off by `expectationError` (1: right). */
export function knowledgeOf(scenario: Scenario, expectationError = 1): TraceKnowledge {
  const { stated, meter, mix, cells, rowsPerCell, drive, converter } = scenario;
  return {
    pulsesPerTurn: stated.pulsesPerTurn,
    cells,
    expectedGramsPerTurn: settingCurve(meter, meter.setting) * cells * rowsPerCell * expectationError,
    lumpinessGrams: lumpGrams(mix),
    standingNoiseGrams: converter.noiseCounts / converter.countsPerGram,
    drive: drive.hand === null ? 'motor' : 'hand',
  };
}

/** Turns board readings into what the trace reads: relative to the first. */
export class Relative {
  private first: Reading | null = null;
  private readonly origins: (number | null)[] = [];
  private readonly gramsPerCount: number;

  constructor(gramsPerCount: number) {
    this.gramsPerCount = gramsPerCount;
  }

  reading(reading: Reading, phase: TraceReading['phase']): TraceReading {
    this.first ??= reading;
    const { first } = this;
    const cellGrams = reading.counts.map((count, cell) => {
      if (!isGoodCount(count)) return null;
      this.origins[cell] ??= count;
      return (count - this.origins[cell]) * this.gramsPerCount;
    });
    return {
      micros: reading.boardMicros - first.boardMicros,
      forward: reading.forwardPulses - first.forwardPulses,
      backward: reading.backwardPulses - first.backwardPulses,
      ageMicros: reading.pulseAgeMicros,
      cellGrams,
      phase,
      flags: reading.flags,
      lost: 0,
    };
  }
}

/** One reading with the truth beside it. */
export interface Watched {
  reading: TraceReading;
  /** True turns since power-up. */
  turns: number;
}

/** Gives every reading of a run to `see` as it comes, with the drill in the state of that moment. */
export function watchRun(
  scenario: Scenario,
  seed: number | string,
  course: Course,
  see: (watched: Watched, drill: Drill) => void,
): Drill {
  const drill = createDrill(scenario, seed);
  const { pulsesPerTurn, debounceMicros } = scenario.stated;
  const board = idealBoard(drill, {
    pulsesPerTurn,
    debounceMicros,
    direction: scenario.wheel.directionSensor ? 1 : 0,
    warnPulses: 2 * pulsesPerTurn,
  });
  const relative = new Relative(scenario.stated.gramsPerCount);
  const read = (phase: TraceReading['phase'], until: (reading: Reading) => boolean) => {
    for (let count = 0; count < 400_000; count++) {
      const reading = board.next();
      const now = phase === 'turning' && reading.state !== 'turning' ? 'after' : phase;
      see({ reading: relative.reading(reading, now), turns: drill.truth.turns() }, drill);
      if (until(reading)) return reading.boardMicros;
    }
    throw new Error(`The run of "${scenario.name}" does not end.`);
  };
  const standing = course.beforeSeconds * 1e6;
  read('before', ({ boardMicros }) => boardMicros >= standing);
  const mode = scenario.drive.hand === null ? 'motor' : 'hand';
  board.go(board.arm(mode, Math.round(course.turns * pulsesPerTurn)).word);
  drill.turnByHand();
  const stopped = read('turning', ({ state }) => state !== 'turning');
  drill.letGo();
  read('after', ({ boardMicros }) => boardMicros >= stopped + course.afterSeconds * 1e6);
  return drill;
}

/** The trace of a whole run. */
export function tracedRun(
  scenario: Scenario,
  seed: number | string,
  course: Course,
  knowledge: TraceKnowledge,
  see: (state: TraceState, watched: Watched, drill: Drill) => void = () => {},
): { state: TraceState; drill: Drill } {
  let state = noTrace(knowledge);
  const drill = watchRun(scenario, seed, course, (watched, running) => {
    state = addToTrace(state, watched.reading);
    see(state, watched, running);
  });
  return { state: endOfTrace(state), drill };
}
