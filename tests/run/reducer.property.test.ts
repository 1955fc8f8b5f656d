import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boardStates, endReasons, type Reading } from '../../server/link/readings.ts';
import { figures, initialRun, type RunState, reduce, tracePoint } from '../../server/run/reduce.ts';
import { type RunEffect, type RunInput, runOutcomes, runPhases } from '../../server/run/types.ts';
import { plan, ScriptedRun, stand } from './script.ts';

/** One thing that happens to a run: readings of some kind, a command, an answer, a mishap. */
type Event = (run: ScriptedRun) => void;

const number = fc.oneof(
  fc.integer({ min: 0, max: 2 ** 32 }),
  fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, -1, 1e300, 0.5, 2 ** 53, -(2 ** 31)),
);

const anyReading: fc.Arbitrary<Reading> = fc.record({
  kind: fc.constant('reading' as const),
  sequence: number,
  boardMicros: number,
  forwardPulses: number,
  backwardPulses: number,
  pulseAgeMicros: fc.option(number),
  state: fc.constantFrom(...boardStates),
  why: fc.constantFrom(...endReasons),
  flags: fc.integer({ min: 0, max: 255 }),
  counts: fc.array(fc.option(number), { maxLength: 7 }),
});

const readings: fc.Arbitrary<Event> = fc
  .record({
    seconds: fc.constantFrom(0.0125, 0.1, 1.5, 4, 20),
    turns: fc.constantFrom(0, 0, 0, 0.02, 1, 6, -0.5),
    state: fc.option(fc.constantFrom(...boardStates)),
    why: fc.constantFrom(...endReasons),
    flags: fc.constantFrom(0, 0, 1, 4),
    knock: fc.constantFrom(0, 0, 0, 0.03, 20, -300),
    silentCell: fc.constantFrom(null, null, null, 0),
  })
  .map(({ seconds, turns, state, why, flags, knock, silentCell }) => (run) => {
    run.boardState = state ?? run.boardState;
    run.why = why;
    run.flags = flags;
    run.grams += knock;
    run.silentCell = silentCell;
    run.read(seconds, turns);
  });

const input: fc.Arbitrary<RunInput> = fc.oneof(
  fc.constantFrom<RunInput>(
    { type: 'begin', plan, stand },
    { type: 'begin', plan: { ...plan, turns: Number.NaN }, stand },
    { type: 'armed', key: '77' },
    { type: 'link-lost' },
    { type: 'link-back' },
    { type: 'link-back', armings: 77 },
    { type: 'link-back', armings: 3 },
    { type: 'resumed', awaySeconds: 3, clockSeconds: 12 },
    { type: 'resumed', awaySeconds: Number.NaN, clockSeconds: -1 },
    { type: 'board-reset', reset: 'BW' },
    { type: 'interrupted' },
    { type: 'command', command: 'stop' },
    { type: 'command', command: 'abort' },
  ),
  fc.constant<RunInput>({ type: 'command', command: 'start' }),
  fc.record({
    type: fc.constant('refused' as const),
    command: fc.constantFrom('arm' as const, 'go' as const, 'stop' as const),
    word: fc.constantFrom('state', 'key', 'button', 'value', 'plain', ''),
  }),
  fc.record({ type: fc.constant('gap' as const), lines: number }),
  fc.record({ type: fc.constant('clock' as const), seconds: number }),
  anyReading.map((reading) => ({ type: 'reading' as const, reading })),
);

/** What brings a run on, so that the deeper phases are reached too. */
const onward: fc.Arbitrary<Event> = fc.constantFrom<Event>(
  (run) => run.ready(),
  (run) => run.started(),
  (run) => run.started().read(8, 6),
  (run) => run.ended('done', 'preset').read(5),
  (run) => {
    run.started().read(8, 6);
    run.ended('done', 'preset').read(5);
  },
  (run) => run.ended('halted', 'host').read(5),
);

const events = fc.array(
  fc.oneof(
    { arbitrary: readings, weight: 4 },
    { arbitrary: onward, weight: 2 },
    {
      arbitrary: input.map(
        (given): Event =>
          (run) =>
            run.give(given),
      ),
      weight: 4,
    },
  ),
  { maxLength: 14 },
);

/** How far runs came, over all cases: a generator that never leaves the first phase would prove nothing. */
const reached = new Set<string>();

/** A watched run: every input is followed by `check`. */
class Watched extends ScriptedRun {
  check: ((before: RunState, given: RunInput, effects: RunEffect[]) => void) | null = null;

  override give(...inputs: RunInput[]): void {
    for (const given of inputs) {
      const before = this.state;
      const known = this.effects.length;
      super.give(given);
      reached.add(this.state.phase).add(String(this.state.outcome));
      this.check?.(before, given, this.effects.slice(known));
    }
  }
}

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(numbersIn);
}

function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(frozen);
  }
  return value;
}

const settings = { numRuns: 150 };

describe('whatever happens, in any order', () => {
  it('the run never throws, and shows nothing but finite numbers and a sentence', () => {
    fc.assert(
      fc.property(events, (list) => {
        const run = new Watched();
        run.check = () => frozen(run.state);
        frozen(run.state);
        for (const event of list) {
          event(run);
          const shown = run.shown;
          expect(runPhases).toContain(shown.phase);
          expect([null, ...runOutcomes]).toContain(shown.outcome);
          expect(shown.outcome !== null).toBe(shown.phase === 'finished');
          expect(shown.sentence).toMatch(/\.$/);
          expect(shown.sentence).not.toMatch(/undefined|null|NaN|Infinity/);
          expect(numbersIn(shown).every(Number.isFinite)).toBe(true);
          expect(numbersIn(tracePoint(run.state)).every(Number.isFinite)).toBe(true);
        }
      }),
      settings,
    );
  });

  it('the wheel is never set going but by Start, pressed in this run since it was last ready', () => {
    fc.assert(
      fc.property(events, (list) => {
        const run = new Watched();
        let wanted = false;
        run.check = (before, given, effects) => {
          if (given.type === 'command' && given.command === 'start' && before.phase === 'ready')
            wanted = true;
          const went = effects.some((effect) => effect.type === 'send' && effect.command === 'go');
          expect(went && !wanted).toBe(false);
          if (run.state.phase !== 'ready') wanted = false;
          if (given.type === 'link-lost' && !before.goSent) wanted = false;
        };
        for (const event of list) event(run);
      }),
      settings,
    );
  });

  it('Stop always reaches the board; a closed run sends nothing more of its own', () => {
    fc.assert(
      fc.property(events, (list) => {
        const run = new Watched();
        run.check = (before, given, effects) => {
          if (given.type === 'command' && given.command === 'stop') {
            expect(effects).toContainEqual({ type: 'send', command: 'stop' });
          } else if (before.phase === 'finished' && given.type !== 'begin') {
            expect(effects).toEqual([]);
          }
        };
        for (const event of list) event(run);
      }),
      settings,
    );
  });

  it('a finished run stays as it is until the next begins, and closes once', () => {
    fc.assert(
      fc.property(events, (list) => {
        const run = new Watched();
        run.check = (before, given, effects) => {
          if (before.phase === 'finished' && given.type !== 'begin') expect(run.state).toBe(before);
          const closes = effects.filter((effect) => effect.type === 'close').length;
          const ends =
            run.state.phase === 'finished' && (before.phase !== 'finished' || given.type === 'begin');
          expect(closes).toBe(ends ? 1 : 0);
        };
        for (const event of list) event(run);
      }),
      settings,
    );
  });

  it('the recorded inputs give the same run again, to the last digit, from any point on', () => {
    fc.assert(
      fc.property(events, fc.double({ min: 0, max: 1, noNaN: true }), (list, share) => {
        const run = new ScriptedRun();
        for (const event of list) event(run);
        const cut = Math.floor(share * run.inputs.length);
        const from = (state: RunState, inputs: RunInput[]) =>
          inputs.reduce((at, given) => reduce(at, given).state, state);
        const half = from(initialRun(), run.inputs.slice(0, cut));
        // The state at the cut is plain data: put away and taken up again, it goes on as if nothing had been.
        const taken = JSON.parse(JSON.stringify(half)) as RunState;
        expect(taken).toStrictEqual(half);
        const whole = from(taken, run.inputs.slice(cut));
        expect(figures(whole)).toStrictEqual(figures(run.state));
      }),
      settings,
    );
  });

  it('where the board’s counters stand makes no difference, not even where they wrap', () => {
    const offset = fc.integer({ min: 0, max: 2 ** 32 - 1 });
    fc.assert(
      fc.property(events, offset, offset, (list, micros, pulses) => {
        const run = new ScriptedRun();
        for (const event of list) event(run);
        const moved = run.inputs.map((given) => shifted(given, micros, pulses));
        const other = moved.reduce((at, given) => reduce(at, given).state, initialRun());
        if (run.inputs.every(isOrdinary)) expect(figures(other)).toStrictEqual(figures(run.state));
        else expect(figures(other).phase).toBeDefined();
      }),
      settings,
    );
  });

  it('(and the runs above did come to every phase and to most endings)', () => {
    const common = ['complete', 'stopped', 'aborted', 'refused', 'board-reset', 'interrupted'] as const;
    for (const name of [...runPhases.slice(1), ...common]) expect(reached).toContain(name);
  });
});

function isOrdinary(given: RunInput): boolean {
  if (given.type !== 'reading') return true;
  const { boardMicros, forwardPulses, backwardPulses } = given.reading;
  return [boardMicros, forwardPulses, backwardPulses].every(
    (total) => Number.isSafeInteger(total) && total >= 0 && total < 2 ** 31,
  );
}

function shifted(given: RunInput, micros: number, pulses: number): RunInput {
  if (given.type !== 'reading') return given;
  const { reading } = given;
  const wrapped = (total: number, by: number) => (total + by) % 2 ** 32;
  return {
    type: 'reading',
    reading: {
      ...reading,
      boardMicros: wrapped(reading.boardMicros, micros),
      forwardPulses: wrapped(reading.forwardPulses, pulses),
      backwardPulses: wrapped(reading.backwardPulses, pulses),
    },
  };
}
