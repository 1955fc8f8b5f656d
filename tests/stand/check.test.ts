/** The check of a stand as a pure function: what may never happen, whatever comes in, and what each part tells. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { projectFile } from '../../firmware-sim/project-file.ts';
import type { BoardCommand } from '../../server/link/encode.ts';
import {
  type BoardState,
  boardStates,
  endReasons,
  type Identity,
  type Reading,
  readingFlags,
} from '../../server/link/readings.ts';
import type { SettingKey } from '../../server/link/settings.ts';
import {
  askOf,
  beginCheck,
  type CheckState,
  checkStep,
  hasPassed,
  stepsFor,
} from '../../server/stand/check.ts';
import { firmwareStanding, shippedFirmware } from '../../server/stand/firmware-version.ts';
import * as limits from '../../server/stand/limits.ts';
import { reportOf, reportText } from '../../server/stand/report.ts';
import { settingsOfLines, usualMasses } from '../../server/stand/step-masses.ts';
import { actIn, choices } from '../../server/stand/terminal.ts';
import type { Ask, CheckInput, StandKnown } from '../../server/stand/types.ts';
import { saidCodes } from '../../server/stand/words.ts';

const identity: Identity = {
  kind: 'identity',
  sequence: 1,
  protocol: 1,
  firmware: shippedFirmware,
  name: 'bench',
  settings: 'ok',
  boot: 3,
  reset: 'P',
  pulsesPerTurn: 24,
  cells: 2,
  direction: 1,
  debounceMicros: 2500,
  arm: null,
} as Identity;

const settings = new Map<SettingKey, string>([
  ['name', 'bench'],
  ['ppt', '24'],
  ['debounce', '2500'],
  ['cells', '2'],
  ['direction', '1'],
  ['warn', '48'],
  ['slope1', '1000000'],
  ['slope2', '1000000'],
  ['zero1', '0'],
  ['zero2', '0'],
]);
const known: StandKnown = { identity, settings };

const arbitraryReading = fc
  .record({
    micros: fc.nat(200_000_000),
    forward: fc.nat(500),
    backward: fc.nat(500),
    age: fc.option(fc.nat(9_999_999)),
    state: fc.constantFrom<BoardState>(...boardStates),
    why: fc.constantFrom(...endReasons),
    flags: fc.nat(127),
    counts: fc.array(fc.option(fc.integer({ min: -8_388_608, max: 8_388_607 })), {
      minLength: 2,
      maxLength: 2,
    }),
  })
  .map(
    ({ micros, forward, backward, age, state, why, flags, counts }): CheckInput => ({
      type: 'reading',
      reading: {
        kind: 'reading',
        sequence: 1,
        boardMicros: micros,
        forwardPulses: forward,
        backwardPulses: backward,
        pulseAgeMicros: age,
        state,
        why,
        flags,
        counts,
      },
    }),
  );

const arbitraryAct = fc
  .oneof(
    fc.constantFrom('go', 'yes', 'no', 'skip', 'again', 'next', 'undo').map((word) => ({ do: word })),
    fc.subarray(usualMasses.map(({ name }) => name)).map((masses) => ({ do: 'weigh', masses })),
    fc.constant({ do: 'settings', values: { name: 'other', ppt: '12' } }),
  )
  .map((act) => ({ type: 'act', act }) as CheckInput);

const arbitraryAnswer = fc
  .record({
    to: fc.constantFrom<BoardCommand['command']>('set', 'save', 'arm', 'go', 'lamp', 'health'),
    ok: fc.boolean(),
    word: fc.constantFrom('', '12', 'button', 'state', 'unknown'),
  })
  .map((each): CheckInput => ({ type: 'answer', ...each }));

const arbitraryInput = fc.oneof(
  { weight: 4, arbitrary: arbitraryReading },
  { weight: 6, arbitrary: arbitraryAct },
  { weight: 3, arbitrary: arbitraryAnswer },
);

/** Acts that walk to the last step and leave it at its question, however the steps are judged. */
function atStep(step: CheckState['step']): CheckState {
  let state = beginCheck(known);
  while (state.step !== step) state = checkStep(state, { type: 'act', act: { do: 'skip' } }).state;
  return state;
}

describe('whatever comes in', () => {
  it('a motor is armed only by a yes to the question whether the wheel is clear, and started only by its key', () => {
    let armed = 0;
    fc.assert(
      fc.property(fc.array(arbitraryInput, { maxLength: 60 }), fc.boolean(), (inputs, near) => {
        let state = near ? atStep('motor') : beginCheck(known);
        for (const input of inputs) {
          const before = askOf(state);
          const { state: next, send } = checkStep(state, input);
          for (const command of send) {
            if (command.command === 'arm' && command.mode === 'motor') {
              armed++;
              expect(before.code).toBe('motor-clear');
              expect(input).toEqual({ type: 'act', act: { do: 'yes' } });
            }
            if (command.command === 'go')
              expect(input).toMatchObject({ type: 'answer', to: 'arm', ok: true, word: command.key });
          }
          state = next;
        }
      }),
      { numRuns: 400, seed: 1 },
    );
    expect(armed).toBeGreaterThan(10);
  });

  it('leaving the motor step or failing in it stops the motor', () => {
    const turning = [
      { type: 'act', act: { do: 'yes' } },
      { type: 'answer', to: 'arm', ok: true, word: '7' },
      { type: 'answer', to: 'go', ok: true, word: '' },
    ] as CheckInput[];
    const state = turning.reduce((before, input) => checkStep(before, input).state, atStep('motor'));
    expect(askOf(state).code).toBe('motor-turning');
    for (const act of ['skip', 'no'] as const)
      expect(checkStep(state, { type: 'act', act: { do: act } }).stop).toBe(true);
    const halted = {
      kind: 'reading',
      boardMicros: 1,
      forwardPulses: 0,
      backwardPulses: 0,
      pulseAgeMicros: null,
      state: 'halted',
      why: 'stalled',
      flags: 0,
      counts: [],
    };
    const move = checkStep(state, { type: 'reading', reading: halted as unknown as Reading });
    expect(move.stop).toBe(true);
    expect(move.state.results.at(-1)).toMatchObject({ step: 'motor', outcome: 'failed' });
  });

  describe('the lamp is judged by the person and by the board, whoever is first', () => {
    const heard = (boardMicros: number, lampOn: boolean) =>
      ({
        type: 'reading',
        reading: { kind: 'reading', boardMicros, flags: lampOn ? readingFlags.lampOn : 0, counts: [] },
      }) as unknown as CheckInput;
    const act = (word: 'go' | 'yes' | 'no'): CheckInput => ({ type: 'act', act: { do: word } });
    const taken: CheckInput = { type: 'answer', to: 'lamp', ok: true, word: '' };
    it.each<[string, CheckInput[], string[] | null]>([
      ['answered before any reading came, and then lit', [act('yes'), heard(5e6, true)], []],
      ['lit, and then answered', [heard(5e6, true), heard(6.3e6, false), act('yes')], []],
      ['lit, and nothing seen', [act('no'), heard(5e6, true)], ['lamp-dark']],
      ['answered at once, and nothing heard', [act('yes')], null],
      [
        'answered at once, and dark for longer than it burns',
        [act('yes'), heard(5e6, false), heard(6.3e6, false)],
        ['lamp-flag-missing'],
      ],
      [
        'dark all along, and answered late',
        [heard(5e6, false), heard(6.3e6, false), act('yes')],
        ['lamp-flag-missing'],
      ],
    ])('%s', (_, inputs, remarks) => {
      const state = [act('go'), taken, ...inputs].reduce(
        (before, input) => checkStep(before, input).state,
        atStep('lamp'),
      );
      const result = state.results.find(({ step }) => step === 'lamp');
      expect(result?.remarks.map(({ code }) => code) ?? null).toEqual(remarks);
      if (remarks === null) expect(askOf(state).code).toBe('lamp-told');
    });
  });

  describe('the turns by hand are judged by the wheel at rest, however late the readings come', () => {
    const heard = (boardMicros: number, forwardPulses: number, pulseAgeMicros: number | null) =>
      ({
        type: 'reading',
        reading: {
          kind: 'reading',
          boardMicros,
          forwardPulses,
          backwardPulses: 0,
          pulseAgeMicros,
          counts: [],
        },
      }) as unknown as CheckInput;
    const go: CheckInput = { type: 'act', act: { do: 'go' } };
    const counted = (inputs: CheckInput[]) => {
      const begun = [go, heard(1e6, 5, null), ...inputs].reduce(
        (before, input) => checkStep(before, input).state,
        atStep('wheel-forward'),
      );
      const result = begun.results.find(({ step }) => step === 'wheel-forward');
      return result?.figures.find(({ name }) => name === 'counted')?.value ?? askOf(begun).code;
    };
    const turning = [heard(2e6, 40, 20_000), heard(3e6, 77, 20_000)];
    it.each<[string, CheckInput[], number | string]>([
      ['at rest already', [...turning, heard(4e6, 77, 1e6), go, heard(4.1e6, 77, 1.1e6)], 72],
      ['said before any of it was read', [go, heard(1.1e6, 5, null), ...turning, heard(4e6, 77, 1e6)], 72],
      ['said while it still turns', [...turning, go, heard(3.1e6, 77, 120_000)], 'wheel-at-rest'],
      ['no pulse at all', [go, heard(1.1e6, 5, null), heard(3.2e6, 5, null)], 0],
    ])('%s', (_, inputs, what) => {
      expect(counted(inputs)).toBe(what);
    });
  });

  it('nothing more is sent once the stand went away, and the check has not passed', () => {
    fc.assert(
      fc.property(
        fc.array(arbitraryInput, { maxLength: 20 }),
        fc.array(arbitraryInput, { maxLength: 20 }),
        (before, after) => {
          let state = before.reduce((each, input) => checkStep(each, input).state, beginCheck(known));
          state = checkStep(state, { type: 'lost' }).state;
          for (const input of after) {
            const move = checkStep(state, input);
            expect(move).toEqual({ state, send: [], stop: false });
            state = move.state;
          }
          expect(hasPassed(state)).toBe(false);
        },
      ),
      { numRuns: 100, seed: 2 },
    );
  });

  it('a step left out is no step passed', () => {
    let state = beginCheck(known);
    while (state.end === null) state = checkStep(state, { type: 'act', act: { do: 'skip' } }).state;
    expect(state.results.map(({ outcome }) => outcome)).toEqual(Array(10).fill('skipped'));
    expect(hasPassed(state)).toBe(false);
  });

  it('without a direction sensor nobody is asked to turn back', () => {
    expect(stepsFor({ ...known, identity: { ...identity, direction: 0 } })).not.toContain('wheel-back');
    expect(stepsFor(known)).toHaveLength(10);
  });
});

describe('the firmware’s version', () => {
  it.each([
    [shippedFirmware, 'same'],
    ['1.0.0', 'older'],
    ['0.99.99', 'older'],
    ['1.1.1', 'newer'],
    ['1.10.0', 'newer'],
    ['2.0.0', 'newer'],
    ['what', 'older'],
  ] as const)('%s beside the one shipped is %s', (firmware, standing) => {
    expect(firmwareStanding(firmware)).toBe(standing);
  });

  it('is that of the source', () => {
    const source = readFileSync(projectFile('firmware-sim/firmware/lines.h'), 'utf8');
    expect(/FIRMWARE_VERSION "([\d.]+)"/.exec(source)![1]).toBe(shippedFirmware);
  });
});

describe('the figures to expect', () => {
  const notes = readFileSync(projectFile('hardware-notes/commissioning.md'), 'utf8');
  it.each([
    `${limits.readingsPerSecond.least} to ${limits.readingsPerSecond.most} a second`,
    `\`worst\` below ${limits.loopWorstMicros}`,
    `\`stack\` above ${limits.stackLeastBytes}`,
    `drift below ${limits.driftGramsPerMinute} g a minute`,
    `at most ${['', '', 'two', 'three'][limits.noiseTimes]} times`,
    `within ${100 * limits.massShare} % of the load or ${['', '', 'twice'][limits.noiseTimesMass]} the noise`,
    `coasts less than half a turn`,
    `for ${['', '', 'two'][limits.motorTurns]} turns`,
    `fw=${shippedFirmware}`,
  ])('stand in the notes: %s', (words) => {
    expect(notes).toContain(words);
  });
});

describe('what is typed', () => {
  const ask: Ask = { code: 'masses', values: {}, acts: ['masses', 'weigh', 'undo', 'go', 'skip'] };
  const state = atStep('masses');
  it.each([
    ['', { do: 'go' }],
    ['skip', { do: 'skip' }],
    ['0', { do: 'weigh', masses: [] }],
    ['200 + 50', { do: 'weigh', masses: ['200 g', '50 g'] }],
    [
      'masses 100 250±0.02',
      {
        do: 'masses',
        masses: [
          { name: '100 g', grams: 100, standardDoubt: 0 },
          { name: '250 g', grams: 250, standardDoubt: 0.02 },
        ],
      },
    ],
    ['masses 0', null],
    ['75', null],
    ['yes', null],
    ['name=x', null],
  ])('"%s" in the step of the masses', (typed, act) => {
    expect(actIn(typed, ask, state)).toEqual(act);
  });

  it('settings are taken by their keys', () => {
    const open: Ask = { code: 'settings', values: {}, acts: ['settings', 'go', 'skip'] };
    expect(actIn('ppt=36 name=bench-2', open, state)).toEqual({
      do: 'settings',
      values: { ppt: '36', name: 'bench-2' },
    });
    expect(actIn('slope1=5', open, state)).toBeNull();
    expect(choices(open)).toContain('key=value');
  });
});

describe('the report', () => {
  it('tells each step with its figures, the date and when the next is due', () => {
    let state = beginCheck(known);
    state = checkStep(state, { type: 'act', act: { do: 'go' } }).state;
    while (state.end === null)
      state = checkStep(state, { type: 'act', act: { do: state.work === null ? 'next' : 'skip' } }).state;
    const text = reportText(reportOf(state, '2026-11-25T08:00:00Z', 'Kim'));
    expect(text).toContain('Check of the stand bench, 2026-11-25 by Kim');
    expect(text).toContain('NOT PASSED. Next check due 2027-11-25');
    expect(text).toContain('The board: ok');
    expect(text).toContain('Motor: left out');
  });

  it('writes no line into the board where none was found', () => {
    expect(settingsOfLines([])).toEqual([]);
  });
});

it('every code that a step may say has a sentence', () => {
  const folder = projectFile('server/stand');
  const files = ['identity', 'settings', 'flow', 'wheel', 'cells', 'masses', 'button', 'lamp', 'motor'];
  const text = files.map((name) => readFileSync(`${folder}/step-${name}.ts`, 'utf8')).join('\n');
  const said = [...text.matchAll(/(?:grave|remark)\(\s*'([a-z-]+)'/g)].map(([, code]) => code!);
  expect(said.length).toBeGreaterThan(30);
  expect(said.filter((code) => !saidCodes.remarks.includes(code))).toEqual([]);
  const asked = [...text.matchAll(/code: (?:[^']*\? )?'([a-z-]+)'/g)].map(([, code]) => code!);
  expect(asked.length).toBeGreaterThan(6);
  expect(asked.filter((code) => !saidCodes.asks.includes(code))).toEqual([]);
});
