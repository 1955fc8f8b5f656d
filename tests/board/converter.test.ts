/** Virtual converters against the HX711 data sheet (Avia Semiconductor), 'Serial Interface' and 'Reset and Power-Down'. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Converter } from '../../firmware-sim/board/converter.ts';
import { ConverterBank } from '../../firmware-sim/board/converter-bank.ts';
import { BoardCpu } from '../../firmware-sim/board/cpu.ts';
import { flashOf } from './machine-code.ts';

function settled(value: number): Converter {
  const converter = new Converter();
  for (let conversion = 0; conversion < 4; conversion++) converter.complete(value);
  return converter;
}

function read(converter: Converter, pulses = 25): { value: number; trailer: number } {
  let bits = 0;
  for (let pulse = 1; pulse <= pulses; pulse++) {
    converter.clockRises();
    if (pulse <= 24) bits = (bits << 1) | converter.data;
  }
  return { value: (bits << 8) >> 8, trailer: converter.data };
}

describe('one converter', () => {
  it('gives its value most significant bit first, in two’s complement, and then sets data high', () => {
    const everyValue = fc.integer({ min: -8388608, max: 8388607 });
    fc.assert(
      fc.property(everyValue, (value) => {
        expect(read(settled(value))).toEqual({ value, trailer: 1 });
      }),
    );
  });

  it('says with a low line that it is ready, from the fourth conversion after power-up on', () => {
    const converter = new Converter();
    const levels = [1, 2, 3, 4].map(() => {
      converter.complete(5);
      return converter.data;
    });
    expect(levels).toEqual([1, 1, 1, 0]);
  });

  it('goes on with a reading while a conversion completes', () => {
    const converter = settled(0x123456);
    let bits = 0;
    for (let pulse = 1; pulse <= 24; pulse++) {
      converter.clockRises();
      bits = (bits << 1) | converter.data;
      if (pulse === 10) converter.complete(0x7fffff);
    }
    expect(bits).toBe(0x123456);
  });

  it('takes no notice of the clock while it is not ready', () => {
    const converter = settled(77);
    read(converter);
    expect(read(converter)).toEqual({ value: -1, trailer: 1 });
    converter.complete(78);
    expect(read(converter)).toEqual({ value: 78, trailer: 1 });
    const settling = new Converter();
    for (let pulse = 0; pulse < 10; pulse++) settling.clockRises();
    for (let conversion = 0; conversion < 4; conversion++) settling.complete(79);
    expect(read(settling)).toEqual({ value: 79, trailer: 1 });
  });

  it('is out of step after clocks that began before it was ready', () => {
    const converter = settled(0);
    read(converter);
    for (let pulse = 1; pulse <= 25; pulse++) {
      if (pulse === 5) converter.complete(0);
      converter.clockRises();
    }
    expect(converter.data).toBe(0);
  });

  it('gives half the counts from the fourth conversion after a reading of 27 pulses on', () => {
    const converter = settled(4000);
    expect(read(converter, 27).value).toBe(4000);
    const ready = [1, 2, 3, 4].map(() => {
      converter.complete(4000);
      return converter.data === 0;
    });
    expect(ready).toEqual([false, false, false, true]);
    expect(read(converter).value).toBe(2000);
  });
});

describe('converters on one clock line', () => {
  function bank(hertz: number[]) {
    const cpu = new BoardCpu(flashOf({}));
    const completed: [number, number][] = [];
    const source = {
      cells: hertz.length,
      conversionPeriod: (cell: number) => 1 / hertz[cell]!,
      convert: (cell: number, seconds: number) => {
        completed.push([cell, seconds]);
        return cell;
      },
    };
    let levels = 0;
    const converters = new ConverterBank(cpu, source, (now) => {
      levels = now;
    });
    const runTo = (cycle: number) => {
      while (cpu.nextEventCycle <= cycle) {
        cpu.cycles = cpu.nextEventCycle;
        cpu.fireDueEvents();
      }
      cpu.cycles = cycle;
    };
    return { converters, completed, runTo, levels: () => levels };
  }

  it('convert each at their own rate', () => {
    const { completed, runTo } = bank([80, 78.4]);
    runTo(16_000_000);
    const times = (cell: number) => completed.filter(([of]) => of === cell).map(([, seconds]) => seconds);
    expect(times(0).length).toBe(80);
    expect(times(1).length).toBe(78);
    expect(times(1)[77]).toBeCloseTo(78 / 78.4, 6);
  });

  it('leave the lines of converters that are not fitted high', () => {
    const { runTo, levels } = bank([80, 80]);
    runTo(16_000_000);
    expect(levels()).toBe(0b111100);
  });

  it('power down when the clock stays high for longer than 60 µs, and settle anew when it falls', () => {
    const { converters, completed, runTo, levels } = bank([80]);
    runTo(16_000_000);
    converters.setClock(true);
    runTo(16_000_000 + 959);
    converters.setClock(false);
    runTo(16_000_000 + 2000);
    // Shorter: a reading was begun, the first bit of 0 stands on the line.
    expect(levels() & 1).toBe(0);
    converters.setClock(true);
    runTo(16_000_000 + 2000 + 961);
    expect(levels() & 1).toBe(1);
    const before = completed.length;
    runTo(32_000_000);
    expect(completed.length).toBe(before);
    converters.setClock(false);
    runTo(32_000_000 + 3.9 * 200_000);
    expect(levels() & 1).toBe(1);
    runTo(32_000_000 + 4.1 * 200_000);
    expect(levels() & 1).toBe(0);
  });
});
