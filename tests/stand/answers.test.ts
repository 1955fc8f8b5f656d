/** Answers to the check of a stand that come early, late, twice or not at all, and a board that takes a part of what it is told. */
import { describe, expect, it } from 'vitest';
import type { BoardCommand } from '../../server/link/encode.ts';
import { type BoardState, type Identity, type Reading, readingFlags } from '../../server/link/readings.ts';
import type { SettingKey } from '../../server/link/settings.ts';
import { askOf, beginCheck, type CheckMove, type CheckState, checkStep } from '../../server/stand/check.ts';
import { coastTurns, motorTurns, weighSeconds } from '../../server/stand/limits.ts';
import { actIn, checkInTerminal, UnfinishedError } from '../../server/stand/terminal.ts';
import type { CheckAct, CheckInput, StandKnown, StepName } from '../../server/stand/types.ts';

const pulsesPerTurn = 24;
const identity: Identity = {
  kind: 'identity',
  sequence: 1,
  protocol: 1,
  firmware: '1.1.0',
  name: 'bench',
  settings: 'ok',
  boot: 3,
  reset: 'P',
  pulsesPerTurn,
  cells: 2,
  direction: 1,
  debounceMicros: 2500,
};
const settings = new Map<SettingKey, string>([
  ['name', 'bench'],
  ['ppt', String(pulsesPerTurn)],
  ['debounce', '2500'],
  ['cells', '2'],
  ['slope1', '1000000'],
  ['slope2', '1000000'],
]);
const known: StandKnown = { identity, settings };

/** A check, and what it has sent to the board. */
class Bench {
  state: CheckState = beginCheck(known);
  sent: BoardCommand[] = [];
  stopped = false;
  micros = 1e6;

  enter(input: CheckInput): void {
    const move: CheckMove = checkStep(this.state, input);
    this.state = move.state;
    this.sent.push(...move.send);
    this.stopped ||= move.stop;
  }

  act(...acts: CheckAct[]): this {
    for (const act of acts) this.enter({ type: 'act', act });
    return this;
  }

  answer(to: BoardCommand['command'], ok: boolean, word = ''): void {
    this.enter({ type: 'answer', to, ok, word });
  }

  reading({
    seconds = 0.0125,
    pulses = 0,
    counts = [0, 0] as (number | null)[],
    state = 'idle' as BoardState,
    flags = 0,
  }): void {
    this.micros += seconds * 1e6;
    const rest = { sequence: 1, backwardPulses: 0, pulseAgeMicros: null, why: '-' } as const;
    const { micros: boardMicros } = this;
    const reading: Reading = {
      kind: 'reading',
      boardMicros,
      forwardPulses: pulses,
      state,
      flags,
      counts,
      ...rest,
    };
    this.enter({ type: 'reading', reading });
  }

  to(step: StepName): this {
    while (this.state.step !== step) this.act({ do: 'skip' });
    return this;
  }

  get codes(): string[] {
    return this.state.results.at(-1)!.remarks.map(({ code }) => code);
  }
}

describe('settings go into the board all or none', () => {
  const values = { name: 'other', ppt: '12' };

  it('are saved once the board has taken every one', () => {
    const bench = new Bench().to('settings').act({ do: 'settings', values });
    bench.answer('set', true);
    expect(bench.sent.map(({ command }) => command)).toEqual(['set', 'set']);
    bench.answer('set', true);
    expect(bench.sent.at(-1)).toEqual({ command: 'save' });
    bench.answer('save', true);
    expect(askOf(bench.state).code).toBe('settings-saving');
    const renamed = { ...known, identity: { ...identity, name: 'other', pulsesPerTurn: 12 } };
    bench.enter({ type: 'known', known: renamed });
    expect(bench.state.results.at(-1)).toMatchObject({ step: 'settings', outcome: 'passed' });
  });

  it('are not saved where it did not take one, which is named', () => {
    const bench = new Bench().to('settings').act({ do: 'settings', values });
    bench.answer('set', true);
    bench.answer('set', false, 'state');
    expect(bench.sent.map(({ command }) => command)).toEqual(['set', 'set']);
    expect(bench.state.results.at(-1)).toMatchObject({
      outcome: 'failed',
      remarks: [{ code: 'setting-refused', values: { key: 'ppt' } }],
    });
  });
});

/** Weighs what hangs on the cell, `grams` at a thousandth of a gram a count, with a little noise. */
function weigh(bench: Bench, cell: number, masses: string[], load: number): void {
  bench.act({ do: 'weigh', masses });
  for (let n = 0; askOf(bench.state).code === 'weighing' && n < 3000; n++) {
    const count = Math.round(load * 1000) + ((n * 7) % 5) - 2;
    bench.reading({ counts: cell === 0 ? [count, 0] : [0, count] });
  }
}

/** The names by which the masses at hand go. */
function namesOf(bench: Bench): string[] {
  return (bench.state.work as { masses: { name: string }[] }).masses.map(({ name }) => name);
}

function weighedCell(bench: Bench, cell: number): void {
  const names = namesOf(bench);
  const nameOf = (grams: number) => names.find((name) => Number.parseFloat(name) === grams)!;
  for (const load of [0, 50, 200, 500, 200, 0]) weigh(bench, cell, load === 0 ? [] : [nameOf(load)], load);
  bench.act({ do: 'go' });
}

describe('check masses', () => {
  it('of a step that is left out half done leave no line behind', () => {
    const bench = new Bench().to('masses');
    weighedCell(bench, 0);
    bench.act({ do: 'skip' });
    expect(bench.state.results.at(-1)).toMatchObject({ step: 'masses', outcome: 'skipped' });
    expect(bench.state.found).toEqual([]);
  });

  it('put no half of a line into the board', () => {
    const bench = new Bench().to('masses');
    weighedCell(bench, 0);
    weighedCell(bench, 1);
    expect(askOf(bench.state).code).toBe('lines-keep');
    bench.act({ do: 'yes' });
    expect(bench.sent.map(({ command }) => command)).toEqual(['set', 'set', 'set', 'set']);
    bench.answer('set', true);
    bench.answer('set', false, 'value');
    bench.answer('set', true);
    bench.answer('set', true);
    expect(bench.sent).toHaveLength(4);
    expect(bench.codes).toContain('line-not-written');
  });

  it('are not waited for on a cell that gives no values', () => {
    const bench = new Bench().to('masses').act({ do: 'weigh', masses: [] });
    for (let n = 0; n < 90 * weighSeconds.most; n++) bench.reading({ counts: [null, 0] });
    expect(askOf(bench.state)).toMatchObject({ code: 'masses', values: { weighed: 0 } });
  });
});

/** The motor step, its wheel turning. */
function turning(): Bench {
  const bench = new Bench().to('motor').act({ do: 'yes' });
  bench.stopped = false;
  bench.answer('arm', true, '7');
  bench.answer('go', true);
  bench.reading({ state: 'turning', flags: readingFlags.motorOn });
  return bench;
}
const preset = motorTurns * pulsesPerTurn;

describe('the motor', () => {
  it('that does not let go of the wheel is told at once, not after a minute', () => {
    const bench = turning();
    bench.reading({ seconds: 4, pulses: preset, state: 'done' });
    for (let n = 1; n <= preset && bench.state.work !== null; n++) {
      bench.reading({ seconds: 0.1, pulses: preset + n, state: 'done' });
    }
    expect(bench.codes).toEqual(['motor-goes-on']);
    expect(bench.stopped).toBe(true);
  });

  it('whose wheel runs out is judged by how far', () => {
    const bench = turning();
    const last = preset + coastTurns * pulsesPerTurn;
    bench.reading({ seconds: 4, pulses: preset, state: 'done' });
    bench.reading({ seconds: 1, pulses: last, state: 'done' });
    bench.reading({ seconds: 3, pulses: last, state: 'done' });
    expect(bench.codes).toEqual(['coast-long']);
  });

  it('whose output stays on is told to stop once more', () => {
    const bench = turning();
    bench.reading({ seconds: 4, pulses: preset, state: 'done' });
    bench.reading({ seconds: 3, pulses: preset, state: 'done', flags: readingFlags.motorOn });
    expect(bench.codes).toEqual(['motor-stays-on']);
    expect(bench.stopped).toBe(true);
  });

  it('of a stand that goes away is told to stop, should it hear that yet', () => {
    const bench = turning();
    bench.enter({ type: 'lost' });
    expect(bench.state.end).toBe('broken');
    expect(bench.stopped).toBe(true);
  });
});

describe('in a terminal', () => {
  /** Types `skip` up to the motor, then these lines, each after so many milliseconds; what went to the board. */
  async function typed(lines: readonly [text: string, afterMillis: number][]) {
    const sent: BoardCommand[] = [];
    const said: string[] = [];
    const skips = Array.from({ length: 9 }, () => ['skip', 0] as const);
    const all: (readonly [string, number])[] = [...skips, ...lines];
    const read = async () => {
      const next = all.shift();
      if (next === undefined) return null;
      if (next[1] > 0) await new Promise((resolve) => setTimeout(resolve, next[1]));
      return next[0];
    };
    const line = {
      send: async (command: BoardCommand) => {
        sent.push(command);
        return { ok: true as const, word: '7' };
      },
      stopNow: async () => ({ ok: true as const, word: '' }),
      known: () => known,
      listen: () => () => {},
    };
    const options = { line, print: (text: string) => said.push(text), read, by: '', now: () => '' };
    await expect(checkInTerminal(options, known)).rejects.toThrow(UnfinishedError);
    return { sent, said };
  }

  it('a yes typed before the question about the wheel turns nothing', async () => {
    const { sent, said } = await typed([
      ['yes', 0],
      ['yes', 0],
    ]);
    expect(sent.filter(({ command }) => command === 'arm')).toEqual([]);
    expect(said.join()).toContain('typed before the question');
    const later = await typed([['yes', 50]]);
    expect(later.sent).toContainEqual({ command: 'arm', mode: 'motor', pulses: preset });
  });

  it('whatever is typed while the motor turns stops it', () => {
    const { state } = turning();
    for (const text of ['', 'stop', 'no', 'aaa'])
      expect(actIn(text, askOf(state), state)).toEqual({ do: 'no' });
  });
});
