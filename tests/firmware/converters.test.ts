import { describe, expect, it } from 'vitest';
import { Stand } from './stand.ts';

const six = [1, -1, 8_388_607, -8_388_608, 0x555555, -0x555556];

/** The counts of all readings of a stand, as words. */
const counts = (stand: Stand) => stand.of('R').map(({ fields }) => fields.slice(9));

/** Runs to the next rise of the converters' clock. */
function nextClockPulse(stand: Stand): void {
  const { cpu } = stand.board;
  const high = () => ((cpu.data[0x2b] as number) & 0x20) !== 0; // PORTD, PD5
  while (high()) stand.board.run(cpu.cycles + 1);
  while (!high()) stand.board.run(cpu.cycles + 1);
}

/** Conversions of a second converter that is ready for the first time at `first`: the fourth after its start. */
function readyAt(first: number): (cell: number, seconds: number) => number {
  let left = 4;
  return (cell, seconds) => {
    if (cell === 0) return 1 / 80;
    if (seconds > first - 1e-6) return 1 / 79;
    left = seconds < 0.01 ? 4 : left - 1;
    return (first - seconds) / left;
  };
}

describe('readings', () => {
  it.each([1, 6])('hold the values of %i cells, about 80 a second, and none is late or lost', (cells) => {
    const stand = new Stand({ values: six.slice(0, cells) }).run(300);
    stand.lines.length = 0;
    stand.run(1000);
    const rows = counts(stand);
    expect(new Set(rows.map((row) => row.join()))).toEqual(new Set([six.slice(0, cells).join()]));
    expect(rows.length).toBeGreaterThan(72);
    expect(rows.length).toBeLessThan(83);
    expect(stand.health('txlost')).toBe(0);
    expect(stand.health('late') + stand.health('desync')).toBeLessThanOrEqual(1); // before the converters were ready
  });

  it('go on with x for a converter that is dead', () => {
    const stand = new Stand({ values: [5, 6, 7], hertz: [80, 0, 79] }).run(300);
    stand.lines.length = 0;
    stand.run(1000);
    expect(new Set(counts(stand).map(String))).toEqual(new Set(['5,x,7']));
    expect(counts(stand).length).toBeGreaterThan(25);
    expect(stand.of('R').every(({ fields }) => (Number.parseInt(fields[8]!, 16) & 0x10) !== 0)).toBe(true);
    expect(stand.health('late')).toBeGreaterThan(25);
  });

  it('go out every 100 ms with no converter answering', () => {
    const stand = new Stand({ values: [5, 6], hertz: [0, 0] }).run(2000);
    const times = stand.of('R').map(({ fields }) => Number(fields[2]));
    const gaps = times.slice(1).map((time, n) => time - times[n]!);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(100_000);
    expect(Math.min(...gaps)).toBeGreaterThan(95_000);
    expect(new Set(counts(stand).map(String))).toEqual(new Set(['x,x']));
  });

  it('never hold a wrong value when a late converter becomes ready at any pulse of a reading', () => {
    // When is a reading that does not wait for the second converter?
    const probe = new Stand({ values: [111_111, 222_222], hertz: [80, 0] }).run(300);
    nextClockPulse(probe);
    const reading = probe.board.seconds;
    const pulseSeconds = 3e-6;
    for (let pulse = -1; pulse < 26; pulse++) {
      const stand = new Stand({
        values: [111_111, 222_222],
        period: readyAt(reading + pulse * pulseSeconds),
      });
      stand.run(700);
      const words = new Set(counts(stand).map(String));
      words.delete('x,x');
      words.delete('111111,x');
      expect([...words]).toEqual(['111111,222222']);
    }
  });

  it('lose one value at the most when a conversion ends as a reading ends', () => {
    let converted = 0;
    const regular = (_: number, seconds: number) => {
      converted = seconds;
      return 1 / 80;
    };
    const probe = new Stand({ values: [555_555], period: regular }).run(300);
    for (let pulse = 0; pulse < 25; pulse++) nextClockPulse(probe);
    const lastPulse = probe.board.seconds;
    const before = converted;
    let lost = 0;
    for (let cycles = -4; cycles < 24; cycles += 2) {
      const period = (_: number, seconds: number) =>
        seconds === before ? lastPulse - seconds + cycles / 16_000_000 : 1 / 80;
      const stand = new Stand({ values: [555_555], period }).run(600);
      const rows = stand.of('R').map(({ fields }) => ({ ms: Number(fields[2]) / 1000, word: fields[9] }));
      const good = rows.filter(({ word }) => word === '555555');
      const gaps = good.slice(1).map(({ ms }, n) => ms - good[n]!.ms);
      lost += rows.filter(({ ms, word }) => ms > good[0]!.ms && word === 'x').length;
      // two periods of 12.5 ms, and what the passes of a millisecond add; starting afresh takes 50 ms more
      expect(Math.max(...gaps)).toBeLessThan(28);
    }
    expect(lost).toBeGreaterThan(0);
    expect(lost).toBeLessThanOrEqual(4);
  });

  it('never hold a wrong value, with a slow converter becoming ready within a reading now and then', () => {
    // One is too slow to be waited for, so the clock runs whether it is ready or not.
    const stand = new Stand({ values: [111_111, 222_222], hertz: [80, 23.7] }).run(20_000);
    const words = new Set(counts(stand).map(String));
    expect(
      [...words].filter((word) => !['111111,222222', '111111,x', 'x,222222', 'x,x'].includes(word)),
    ).toEqual([]);
    expect(words).toContain('111111,222222');
    expect(words).toContain('111111,x');
  });

  it('are right again after a reset at any pulse of a reading', () => {
    const stand = new Stand({ values: six }).run(300);
    for (let pulse = 0; pulse < 25; pulse++) {
      for (let seen = 0; seen <= pulse; seen++) nextClockPulse(stand);
      stand.board.reset();
      stand.lines.length = 0;
      stand.run(260);
      const good = counts(stand).filter((row) => !row.includes('x'));
      expect(good.length).toBeGreaterThan(8);
      expect(new Set(good.map(String))).toEqual(new Set([six.join()]));
    }
  });

  it('carry numbers without a gap and times that grow', () => {
    const stand = new Stand({ settings: { cells: 6 } }).run(150);
    stand.command('get');
    stand.runWithHost(3000);
    const numbers = stand.lines.map(({ fields }) => Number(fields[1]));
    expect(numbers).toEqual(numbers.map((_, n) => n));
    const times = stand.of('R').map(({ fields }) => Number(fields[2]));
    expect(times).toEqual([...times].sort((a, b) => a - b));
    // board time against the emulated clock: a line of 100 characters takes 9 ms
    const { ms, fields } = stand.of('R').at(-1)!;
    expect(ms - Number(fields[2]) / 1000).toBeGreaterThan(0);
    expect(ms - Number(fields[2]) / 1000).toBeLessThan(25);
  });
});
