import fc from 'fast-check';
import type { BoardCommand } from '../../server/link/encode.ts';
import { type BoardLine, boardStates, endReasons } from '../../server/link/readings.ts';
import { type SettingKey, settingKeys } from '../../server/link/settings.ts';

/** Anything that the protocol allows, for property tests. */

const upTo = (max: number) => fc.integer({ min: 0, max });
const sequence = upTo(0xffff);
const total = fc.oneof(upTo(0xffffffff), fc.constantFrom(0, 0xffffffff, 2 ** 31));
const state = fc.constantFrom(...boardStates);
const why = fc.constantFrom(...endReasons);
const count = fc.oneof(
  fc.integer({ min: -8388608, max: 8388607 }),
  fc.constantFrom(null, 0, -1, -8388608, 8388607),
);
const name = fc.stringMatching(/^[A-Za-z0-9_-]{1,16}$/);
const letters = fc.subarray(['P', 'E', 'B', 'W']).map((some) => some.join(''));
/** No longer than leaves room in the line for the longest of all the rest. */
const version = fc.tuple(upTo(9), upTo(99), upTo(99)).map((parts) => parts.join('.'));

export const arbitrarySetting: fc.Arbitrary<{ key: SettingKey; value: string }> = fc
  .constantFrom(...settingKeys)
  .chain((key) => settingValue(key).map((value) => ({ key, value })));

function settingValue(key: SettingKey): fc.Arbitrary<string> {
  const whole = (min: number, max: number) => fc.integer({ min, max }).map(String);
  if (key === 'name') return name;
  if (key.startsWith('slope')) return whole(-2e9, 2e9).filter((value) => value !== '0');
  if (key.startsWith('zero')) return whole(-8388608, 8388607);
  const [min, max] = { ppt: [1, 2000], debounce: [20, 20000], cells: [1, 6], direction: [0, 2] }[
    key as string
  ] ?? [0, 65535];
  return whole(min!, max!);
}

const answerWords = fc.oneof(
  fc.record({ ok: fc.constant(true), word: fc.constantFrom('', '65537', 'id beat arm go stop') }),
  fc.record({
    ok: fc.constant(false),
    word: fc.constantFrom('unknown', 'value', 'state', 'button', 'settings', 'key', 'plain'),
  }),
);

export const arbitraryLine: fc.Arbitrary<BoardLine> = fc.oneof(
  fc.record({
    kind: fc.constant('reading' as const),
    sequence,
    boardMicros: total,
    forwardPulses: total,
    backwardPulses: total,
    pulseAgeMicros: fc.option(upTo(9999998)),
    state,
    why,
    flags: upTo(0x7f),
    counts: fc.array(count, { minLength: 1, maxLength: 6 }),
  }),
  fc
    .record({
      kind: fc.constant('identity' as const),
      sequence,
      protocol: fc.constant(1),
      firmware: version,
      name,
      settings: fc.constantFrom('ok' as const, 'blank' as const, 'corrupt' as const),
      boot: upTo(65535),
      reset: letters,
      pulsesPerTurn: fc.integer({ min: 1, max: 2000 }),
      cells: fc.integer({ min: 1, max: 6 }),
      direction: fc.constantFrom(0 as const, 1 as const, 2 as const),
      debounceMicros: fc.integer({ min: 20, max: 20000 }),
      armings: fc.option(upTo(255)),
    })
    .map(({ armings, ...line }) => (armings === null ? line : { ...line, armings })),
  fc
    .record({ kind: fc.constant('answer' as const), sequence, tag: upTo(65535), words: answerWords })
    .map(({ words, ...line }) => ({ ...line, ...words })),
  fc.record({
    kind: fc.constant('change' as const),
    sequence,
    boardMicros: total,
    state,
    why,
    forwardPulses: total,
    backwardPulses: total,
  }),
  fc
    .record({ kind: fc.constant('setting' as const), sequence, setting: arbitrarySetting })
    .map(({ setting, ...line }) => ({ ...line, ...setting })),
  fc.record({
    kind: fc.constant('health' as const),
    sequence,
    figures: fc.record({
      up: upTo(9999999),
      loop: upTo(65535),
      worst: upTo(65535),
      rxlost: upTo(65535),
      rxbad: upTo(65535),
      txlost: upTo(65535),
      late: upTo(65535),
      desync: upTo(65535),
      bounced: total,
      stack: upTo(2048),
      boot: upTo(65535),
    }),
    reset: letters,
  }),
);

export const arbitraryCommand: fc.Arbitrary<BoardCommand> = fc.oneof(
  fc.constantFrom<BoardCommand>(
    { command: 'id' },
    { command: 'beat' },
    { command: 'stop' },
    { command: 'get' },
    { command: 'save' },
    { command: 'health' },
    { command: 'help' },
    { command: 'lamp' },
  ),
  fc.record({
    command: fc.constant('arm' as const),
    mode: fc.constantFrom('motor' as const, 'hand' as const),
    pulses: fc.integer({ min: 1, max: 16777215 }),
  }),
  fc.record({ command: fc.constant('go' as const), key: upTo(0xffffffff).map(String) }),
  arbitrarySetting.map((setting) => ({ command: 'set' as const, ...setting })),
);
