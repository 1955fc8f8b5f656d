/** The smaller parts of the emulated board and stand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BoardCpu } from '../../firmware-sim/board/cpu.ts';
import { EepromStore } from '../../firmware-sim/board/eeprom-store.ts';
import { flashBytes, HexError, parseIntelHex } from '../../firmware-sim/board/intel-hex.ts';
import { SerialLine } from '../../firmware-sim/board/serial-line.ts';
import { crc16 } from '../../firmware-sim/board/settings-image.ts';
import { keepFields } from '../../firmware-sim/board/snapshot.ts';
import { Usart } from '../../firmware-sim/board/usart.ts';
import { StandClock } from '../../firmware-sim/stand-clock.ts';
import { flashOf } from './machine-code.ts';

describe('an Intel HEX file', () => {
  // The first record is the example of Intel's specification, section 'Data Record', shortened; its checksum is worked out by hand.
  const good = ':04001000DEADBEEFB4\n:00000001FF\n';

  it('becomes a flash image, erased where nothing is said', () => {
    const flash = parseIntelHex(good);
    expect(flash.length).toBe(flashBytes);
    expect([...flash.subarray(0x0f, 0x15)]).toEqual([0xff, 0xde, 0xad, 0xbe, 0xef, 0xff]);
  });

  it('is refused with the line and the reason when any one digit of a data record is changed', () => {
    for (let at = 1; at < good.indexOf('\n'); at++) {
      const digit = good[at] === '0' ? '1' : '0';
      expect(() => parseIntelHex(good.slice(0, at) + digit + good.slice(at + 1))).toThrow(HexError);
    }
  });

  it('is refused when its end is missing or it does not fit the flash', () => {
    expect(() => parseIntelHex(':04001000DEADBEEFB4\n')).toThrow(/no end record/);
    expect(() => parseIntelHex(':01800000007F\n:00000001FF\n')).toThrow(/beyond the flash/);
    expect(() => parseIntelHex('<html>\n')).toThrow(/Line 1 .* no hex record/);
  });
});

describe('the EEPROM', () => {
  it('sets bits by erasing alone', () => {
    const store = new EepromStore(Uint8Array.of(0x0f));
    store.writeMemory(0, 0xf3);
    expect(store.readMemory(0)).toBe(0x03);
    store.eraseMemory(0);
    expect(store.readMemory(0)).toBe(0xff);
  });

  it('does nothing from the operation on at which the power is cut, or leaves that byte torn', () => {
    const store = new EepromStore(Uint8Array.of(1, 2, 3));
    store.cutPowerAt(2, 0x99);
    for (const address of [0, 1, 2]) store.eraseMemory(address);
    expect([...store.bytes.subarray(0, 3)]).toEqual([0xff, 0x99, 3]);
    expect(store.powerIsCut).toBe(true);
    store.restorePower();
    store.eraseMemory(2);
    expect(store.readMemory(2)).toBe(0xff);
  });
});

describe('clock events', () => {
  it('fire in order of time, and of asking where the time is the same', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 20 })), (cycles) => {
        const cpu = new BoardCpu(flashOf({}));
        const fired: [number, number][] = [];
        for (const [index, cycle] of cycles.entries()) cpu.at(cycle, () => fired.push([cycle, index]));
        cpu.cycles = 20;
        cpu.fireDueEvents();
        expect(fired).toEqual(
          cycles.map((cycle, index) => [cycle, index]).sort(([a, i], [b, j]) => a! - b! || i! - j!),
        );
      }),
    );
  });

  it('may cancel themselves and others, and add new ones, while they fire', () => {
    const cpu = new BoardCpu(flashOf({}));
    const fired: string[] = [];
    const never = () => fired.push('never');
    const self = () => {
      fired.push('self');
      cpu.clearClockEvent(self);
      cpu.clearClockEvent(never);
      cpu.at(2, () => fired.push('new'));
    };
    cpu.at(1, self);
    cpu.at(3, never);
    cpu.cycles = 5;
    cpu.fireDueEvents();
    expect(fired).toEqual(['self', 'new']);
  });
});

describe('the serial line', () => {
  function line() {
    const cpu = new BoardCpu(flashOf({}));
    const usart = new Usart(cpu);
    // U2X and UBRR of 115 200 baud: a receiver at another speed reads rubbish.
    cpu.writeData(0xc0, 0x02);
    cpu.writeData(0xc4, 16);
    const arrivals: [number, number][] = [];
    usart.receive = (byte) => arrivals.push([byte, cpu.cycles]);
    const runTo = (cycle: number) => {
      while (cpu.nextEventCycle <= cycle) {
        cpu.cycles = cpu.nextEventCycle;
        cpu.fireDueEvents();
      }
      cpu.cycles = cycle;
    };
    return { serial: new SerialLine(cpu, usart), arrivals, runTo };
  }

  it('brings bytes at ten bits each, without drift', () => {
    const { serial, arrivals, runTo } = line();
    serial.write(new Uint8Array(1152).fill(0x41));
    runTo(16_000_000);
    expect(arrivals.length).toBe(1152);
    expect(arrivals.at(-1)![1] / 16_000_000).toBeCloseTo(0.1, 6);
    serial.write(Uint8Array.of(0x42));
    runTo(16_000_000 + 1388);
    expect(arrivals.length).toBe(1152);
    runTo(16_000_000 + 1389);
    expect(arrivals.at(-1)![0]).toBe(0x42);
  });

  it('holds 4096 bytes and says how many it took', () => {
    const { serial, arrivals, runTo } = line();
    expect(serial.write(new Uint8Array(5000))).toBe(4096);
    expect(serial.room).toBe(0);
    runTo(1_600_000);
    expect(serial.room).toBe(arrivals.length);
    serial.discardUnsent();
    runTo(3_200_000);
    expect(serial.waiting).toBe(0);
  });
});

describe('the check', () => {
  it('of "123456789" is 29B1', () => {
    // CRC-16/CCITT-FALSE, check value of the 'Catalogue of parametrised CRC algorithms' (G. Cook), from memory; also in hardware-notes/protocol.md.
    expect(crc16(new TextEncoder().encode('123456789'))).toBe(0x29b1);
  });
});

describe('a remembered object', () => {
  it('comes back with its numbers, lists and arrays, whatever was done to them', () => {
    const object = { count: 1, nothing: null as null | number, list: [1, 2], bytes: Uint8Array.of(1, 2) };
    const restore = keepFields(object);
    for (let round = 0; round < 2; round++) {
      Object.assign(object, { count: 5, nothing: 3 });
      object.list.push(9);
      object.bytes[0] = 7;
      restore();
      expect(object).toEqual({ count: 1, nothing: null, list: [1, 2], bytes: Uint8Array.of(1, 2) });
    }
  });
});

describe('the clock that follows a stand', () => {
  function clock() {
    let cycles = 0;
    const following = new StandClock(() => cycles);
    const runTo = (milliseconds: number) => {
      while (following.nextDue <= milliseconds * 16_000) {
        cycles = following.nextDue;
        following.fireDue();
      }
      cycles = milliseconds * 16_000;
    };
    return { following, runTo };
  }

  it('fires timers in order of time, at their time', () => {
    const { following, runTo } = clock();
    const fired: [string, number][] = [];
    for (const [name, after] of [
      ['b', 20],
      ['a', 10],
      ['c', 20.5],
    ] as const) {
      following.after(after, () => fired.push([name, following.now()]));
    }
    const cancel = following.after(15, () => fired.push(['cancelled', 0]));
    cancel();
    runTo(20);
    expect(fired).toEqual([
      ['a', 10],
      ['b', 20],
    ]);
    runTo(30);
    expect(fired.at(-1)).toEqual(['c', 20.5]);
  });

  it('lets time pass between tasks that call for themselves at once', () => {
    const { following, runTo } = clock();
    let times = 0;
    const again = () => {
      times++;
      following.after(0, again);
    };
    following.after(0, again);
    runTo(100);
    expect(times).toBe(100);
  });
});
