/**
 * A second opinion: the shipped .hex in simavr, an emulator by other hands, with converters, serial line and pins written a second
 * time in C. The same stimuli give the same lines as on the project's own emulated board. CATCHBENCH_WHOLE=1 runs longer lists.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { eepromFor } from '../../firmware-sim/stand.ts';
import { needs } from '../needs.ts';
import { compare } from './compare.ts';
import { Simavr } from './simavr.ts';
import { onOwnBoard } from './stimuli.ts';
import { everything } from './traces.ts';

const whole = Boolean(process.env.CATCHBENCH_WHOLE);
const seconds = whole ? 60 : 6;
const lists = [
  { seed: 1, cells: 1 },
  { seed: 2, cells: 6 },
  ...(whole ? [3, 4, 5, 6].map((seed) => ({ seed, cells: seed })) : []),
];

/** The emulators charge a few instructions differently, so now and then a pulse waits for another interrupt (13 µs) in one of them only. */
const mostMicros = 15;

describe.skipIf(!needs('make') || !needs('gcc') || !needs('simavr'))('simavr and the emulated board', () => {
  let simavr: Simavr;
  let said = '';
  beforeAll(() => {
    simavr = new Simavr();
  });
  afterAll(() => simavr.dispose());

  it.each(lists)(
    'say the same lines but for time stamps: seed $seed, $cells cells',
    { timeout: 600_000 },
    ({ seed, cells }) => {
      const eeprom = eepromFor({ cells, debounceMicroseconds: 1500, direction: 1, warnPulses: 10 });
      const list = everything(seed, cells, seconds);
      const own = onOwnBoard(list, eeprom);
      const second = simavr.run(list, eeprom);
      const { lines, largestMicros, largestDuration, passesApart, coincidences, different } = compare(
        own.lines,
        second.lines,
      );
      console.info(
        `seed ${seed}, ${cells} cells, ${seconds} s: ${lines} lines, ${different.length} different, ${coincidences} coincidences, ${passesApart} a pass apart; time stamps at most ${largestMicros} µs apart, pass times ${largestDuration} µs`,
      );
      expect(different).toEqual([]);
      expect(largestMicros).toBeLessThanOrEqual(mostMicros);
      expect(coincidences + passesApart).toBeLessThanOrEqual(Math.ceil(seconds / 3));
      expect(lines).toBeGreaterThan(60 * seconds);
      said += own.lines.join('\n');
      expect(second.motor.map(({ on }) => on)).toEqual(own.motor.map(({ on }) => on));
      own.motor.forEach(({ cycle }, at) => {
        expect(Math.abs(second.motor[at]!.cycle - cycle)).toBeLessThan(16 * mostMicros);
      });
    },
  );

  it('have been through the states, ends and answers of a run in these lists', () => {
    for (const word of [' armed ', ' turning ', ' halted ', ' button ', ' ok', ' no value', ' no unknown']) {
      expect(said).toContain(word);
    }
  });

  it('differ when a converter gives other values, so that the comparison can fail', () => {
    const eeprom = eepromFor({ cells: 1 });
    const list = everything(1, 1, 1);
    const other = list.map((one) =>
      one.kind === 'cell' && one.cycle > 0 ? { ...one, value: one.value ^ 1 } : one,
    );
    const { different } = compare(onOwnBoard(list, eeprom).lines, simavr.run(other, eeprom).lines);
    expect(different.length).toBeGreaterThan(40);
  });
});
