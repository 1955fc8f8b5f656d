/**
 * What the stock emulator gets wrong or leaves out, and the board must get right. Each program is a few instructions; what is
 * expected is what the ATmega328P's data sheet says (Microchip DS40002061B, chapter given beside the test).
 */
import { describe, expect, it } from 'vitest';
import { EepromStore } from '../../firmware-sim/board/eeprom-store.ts';
import { Mcu, resetCause } from '../../firmware-sim/board/mcu.ts';
import {
  cbi,
  flashOf,
  inc,
  ldi,
  lds,
  nop,
  put,
  reti,
  rjmp,
  sbi,
  sei,
  sleep,
  stay,
  sts,
} from './machine-code.ts';

const EIFR = 0x3c;
const EIMSK = 0x3d;
const SMCR = 0x53;
const MCUSR = 0x54;
const WDTCSR = 0x60;
const PCICR = 0x68;
const EICRA = 0x69;
const PCMSK2 = 0x6d;
const UCSR0A = 0xc0;
const UCSR0B = 0xc1;
const UBRR0L = 0xc4;
const UDR0 = 0xc6;
const DDRB = 0x24;
const PORTB = 0x25;
/** Somewhere in SRAM. */
const seen = 0x300;

const vector = { int0: 0x02, pinChangeD: 0x0a, timer1CompareA: 0x16, dataRegisterEmpty: 0x26 };
const main = 0x40;
const start = rjmp(main - 1);
const risingEdges = 0x03;
const receiverAndTransmitter = 0x18;

function mcuWith(parts: Record<number, number[][]>): Mcu {
  return new Mcu(flashOf({ 0: [start], ...parts }), new EepromStore());
}

function pulseOnInt0(mcu: Mcu): void {
  mcu.portD.setPin(2, true);
  mcu.portD.setPin(2, false);
}

describe('serial port (chapter 19)', () => {
  /** At 2 Mbaud a character takes 80 cycles. */
  const fast = [put(UBRR0L, 0), put(UCSR0A, 0x02), put(UCSR0B, receiverAndTransmitter)];

  it('keeps UDRE set on interrupt entry, so that a handler may end its own interrupt and start it again later', () => {
    const sent: number[] = [];
    const mcu = mcuWith({
      // Sends one byte and disables itself; the main program enables it again for ever.
      [vector.dataRegisterEmpty]: [put(UDR0, 0x55), put(UCSR0B, 0x08), reti()],
      [main]: [...fast, sei(), put(UCSR0B, 0x28), rjmp(-4)],
    });
    mcu.usart.onTransmit = (byte) => sent.push(byte);
    mcu.run(8000);
    expect(sent.length).toBeGreaterThan(90);
  });

  it('keeps a received byte through writes to UCSR0B and UCSR0A', () => {
    const mcu = mcuWith({
      [main]: [
        ...fast,
        ...Array(40).fill(nop()),
        put(UCSR0B, 0x98),
        put(UCSR0B, 0x18),
        put(UCSR0A, 0x02),
        lds(17, UCSR0A),
        lds(18, UDR0),
        sts(seen, 17),
        sts(seen + 1, 18),
        stay(),
      ],
    });
    mcu.run(20);
    mcu.usart.receive(0x5a);
    mcu.run(500);
    expect(mcu.cpu.data[seen]! & 0xa0).toBe(0xa0);
    expect(mcu.cpu.data[seen + 1]).toBe(0x5a);
  });

  it('sets double speed after the transmitter is on and still sends', () => {
    const sent: number[] = [];
    const mcu = mcuWith({
      [vector.dataRegisterEmpty]: [put(UDR0, 0x33), put(UCSR0B, 0x08), reti()],
      [main]: [put(UCSR0B, 0x08), put(UCSR0A, 0x02), put(UCSR0B, 0x28), sei(), stay()],
    });
    mcu.usart.onTransmit = (byte) => sent.push(byte);
    mcu.run(1000);
    expect(sent).toEqual([0x33]);
  });

  it('sends without a gap: the transmitter is buffered twice', () => {
    const cycles: number[] = [];
    const mcu = mcuWith({
      [vector.dataRegisterEmpty]: [put(UDR0, 0x55), reti()],
      [main]: [...fast, put(UCSR0B, 0x28), sei(), stay()],
    });
    mcu.usart.onTransmit = () => cycles.push(mcu.cpu.cycles);
    mcu.run(16_000);
    const last = cycles.length - 1;
    expect(last).toBeGreaterThan(190);
    expect((cycles[last]! - cycles[0]!) / last).toBeCloseTo(80, 1);
  });

  it('holds two received bytes and says so when a third is lost', () => {
    const mcu = mcuWith({
      [main]: [
        ...fast,
        ...Array(20).fill(nop()),
        lds(17, UCSR0A),
        lds(18, UDR0),
        lds(19, UDR0),
        lds(20, UCSR0A),
        ...[17, 18, 19, 20].map((r) => sts(seen + r, r)),
        stay(),
      ],
    });
    mcu.run(20);
    for (const byte of [1, 2, 3]) mcu.usart.receive(byte);
    mcu.run(500);
    const [status, first, second, after] = mcu.cpu.data.slice(seen + 17, seen + 21);
    expect(status! & 0x88).toBe(0x88);
    expect([first, second]).toEqual([1, 2]);
    expect(after! & 0x88).toBe(0);
  });
});

describe('reset (chapter 10)', () => {
  it('drops every output at once when the watchdog bites, before the program says anything', () => {
    const mcu = mcuWith({
      // The program drives the pin only once: after the reset it finds the watchdog's flag and waits.
      [main]: [
        lds(17, MCUSR),
        sts(seen, 17),
        [0xfd13],
        stay(),
        sbi(DDRB, 0),
        sbi(PORTB, 0),
        put(WDTCSR, 0x18),
        put(WDTCSR, 0x08),
        stay(),
      ],
    });
    const levels: [boolean, number][] = [];
    mcu.portB.addListener((now) => levels.push([(now & 1 & mcu.cpu.data[DDRB]!) === 1, mcu.cpu.cycles]));
    mcu.run(600_000);
    expect(levels.map(([on]) => on).at(-1)).toBe(false);
    // 2048 cycles of the watchdog's 128 kHz: 16 ms.
    expect(levels.at(-1)![1] / 16_000).toBeCloseTo(16, 1);
    expect(mcu.cpu.data[seen]).toBe(resetCause.powerOn | resetCause.watchdog);
  });

  it('keeps the watchdog running after it has bitten, until its flag is cleared', () => {
    const skipUnlessBitten = [0xfd13]; // SBRC r17, 3
    const mcu = mcuWith({
      // Counts its starts and switches the watchdog on in the first of them alone.
      [main]: [
        lds(18, seen),
        inc(18),
        sts(seen, 18),
        lds(17, MCUSR),
        skipUnlessBitten,
        stay(),
        put(WDTCSR, 0x18),
        put(WDTCSR, 0x08),
        stay(),
      ],
    });
    mcu.cpu.data[seen] = 0;
    mcu.run(16_000 * 100);
    // Every 16 ms.
    expect(mcu.cpu.data[seen]).toBe(7);
  });

  it('tells power-on from the reset line', () => {
    const mcu = mcuWith({ [main]: [lds(17, MCUSR), sts(seen, 17), ldi(18, 0), sts(MCUSR, 18), stay()] });
    mcu.run(100);
    expect(mcu.cpu.data[seen]).toBe(resetCause.powerOn);
    mcu.reset(resetCause.external);
    mcu.run(200);
    expect(mcu.cpu.data[seen]).toBe(resetCause.external);
  });

  it('keeps SRAM through a reset and loses it with the power', () => {
    const mcu = mcuWith({ [main]: [stay()] });
    mcu.cpu.data[seen] = 0xa7;
    mcu.reset(resetCause.external);
    expect(mcu.cpu.data[seen]).toBe(0xa7);
    mcu.reset(resetCause.powerOn);
    expect(mcu.cpu.data[seen]).not.toBe(0xa7);
  });
});

describe('EEPROM (chapter 7)', () => {
  const EECR = 0x3f;
  const EEDR = 0x40;
  const EEARL = 0x41;
  const begin = (address: number, value: number) => [
    put(EEARL, address),
    put(EEDR, value),
    sbi(EECR, 2),
    sbi(EECR, 1),
  ];

  it('goes on with a write through a reset, and is busy until it is done', () => {
    const store = new EepromStore();
    // Writes at once; then tells for ever whether it is busy.
    const flash = flashOf({ 0: [start], [main]: [lds(18, EECR), sts(seen, 18), ...begin(5, 0x5a), stay()] });
    const mcu = new Mcu(flash, store);
    mcu.run(100);
    mcu.reset(resetCause.external);
    mcu.run(200);
    expect(mcu.cpu.data[seen]! & 0x02).toBe(0x02);
    // An erasure and a write take 3.6 ms.
    mcu.run(16_000 * 3.6 + 200);
    mcu.reset(resetCause.external);
    mcu.run(16_000 * 4);
    expect(mcu.cpu.data[seen]! & 0x02).toBe(0);
    expect(store.readMemory(5)).toBe(0x5a);
  });

  it('is free at once after the power was away', () => {
    const store = new EepromStore();
    const mcu = new Mcu(
      flashOf({ 0: [start], [main]: [...begin(5, 0x5a), ...begin(6, 0x12), stay()] }),
      store,
    );
    mcu.run(100);
    expect(store.readMemory(6)).toBe(0xff);
    store.bytes.fill(0xff);
    mcu.reset(resetCause.powerOn);
    mcu.run(200);
    expect(store.readMemory(5)).toBe(0x5a);
  });
});

describe('interrupts (chapters 6 and 12)', () => {
  it('runs one instruction after SEI before an interrupt, so that SEI and SLEEP lose no wake-up', () => {
    const mcu = mcuWith({
      [vector.int0]: [inc(20), reti()],
      [main]: [
        ldi(20, 0),
        put(EICRA, risingEdges),
        put(EIMSK, 1),
        put(SMCR, 1),
        ...Array(10).fill(nop()),
        sei(),
        sleep(),
        sts(seen, 20),
        stay(),
      ],
    });
    mcu.run(12);
    pulseOnInt0(mcu);
    mcu.run(200);
    expect(mcu.cpu.data[seen]).toBe(1);
  });

  it('runs one instruction after RETI before the next interrupt', () => {
    const mcu = mcuWith({
      [vector.int0]: [inc(20), reti()],
      [main]: [ldi(20, 0), ldi(21, 0), put(EICRA, risingEdges), put(EIMSK, 1), sei(), inc(21), rjmp(-2)],
    });
    mcu.run(20);
    for (let cycle = 20; cycle < 2000; cycle++) {
      pulseOnInt0(mcu);
      mcu.run(cycle);
    }
    expect(mcu.cpu.data[20]).toBeGreaterThan(100);
    // The loop is two instructions long, and each time round counts once.
    expect(mcu.cpu.data[21]).toBeGreaterThanOrEqual(Math.floor(mcu.cpu.data[20]! / 2));
  });

  it('takes four cycles to enter an interrupt, and four more out of sleep', () => {
    const program = (idle: number[]) => ({
      [vector.int0]: [sbi(PORTB, 0), reti()],
      [main]: [sbi(DDRB, 0), put(EICRA, risingEdges), put(EIMSK, 1), put(SMCR, 1), sei(), idle, rjmp(-2)],
    });
    const latency = (idle: number[]) => {
      const mcu = mcuWith(program(idle));
      let changed = 0;
      mcu.portB.addListener(() => {
        changed = mcu.cpu.cycles;
      });
      mcu.run(100);
      const edge = mcu.cpu.cycles + 50;
      mcu.cpu.at(edge, () => pulseOnInt0(mcu));
      mcu.run(300);
      return changed - edge;
    };
    // The output instruction itself is yet to come when the port is written.
    expect(latency(sleep())).toBe(8);
    expect(latency(nop())).toBeGreaterThanOrEqual(4);
    expect(latency(nop())).toBeLessThanOrEqual(6);
  });

  it('charges two cycles for CBI as for SBI', () => {
    const cyclesOf = (instruction: number[]) => {
      const mcu = mcuWith({ [main]: [...Array(100).fill(instruction), sts(seen, 1), stay()] });
      let end = 0;
      mcu.cpu.writeHooks[seen] = () => {
        end = mcu.cpu.cycles;
      };
      mcu.run(1000);
      return end;
    };
    expect(cyclesOf(cbi(PORTB, 0)) - cyclesOf(nop())).toBe(100);
    expect(cyclesOf(sbi(PORTB, 0)) - cyclesOf(nop())).toBe(100);
  });

  it('latches an edge while its interrupt is masked', () => {
    const mcu = mcuWith({
      [vector.int0]: [inc(20), reti()],
      [main]: [ldi(20, 0), put(EICRA, risingEdges), sei(), ...Array(20).fill(nop()), put(EIMSK, 1), stay()],
    });
    mcu.run(15);
    pulseOnInt0(mcu);
    mcu.run(100);
    expect(mcu.cpu.data[20]).toBe(1);
  });

  it('clears one flag of EIFR and leaves the other', () => {
    const mcu = mcuWith({
      [main]: [
        put(EICRA, 0x0f),
        ...Array(20).fill(nop()),
        sbi(EIFR, 0),
        lds(17, EIFR),
        sts(seen, 17),
        stay(),
      ],
    });
    mcu.run(10);
    pulseOnInt0(mcu);
    mcu.portD.setPin(3, true);
    mcu.run(100);
    expect(mcu.cpu.data[seen]).toBe(0x02);
  });

  it('fires a latched pin change when it is enabled later, and not once it is disabled', () => {
    const late = mcuWith({
      [vector.pinChangeD]: [inc(20), reti()],
      [main]: [ldi(20, 0), put(PCMSK2, 0x10), sei(), ...Array(20).fill(nop()), put(PCICR, 4), stay()],
    });
    late.run(15);
    late.portD.setPin(4, true);
    late.run(100);
    expect(late.cpu.data[20]).toBe(1);
    const off = mcuWith({
      [vector.pinChangeD]: [inc(20), reti()],
      [main]: [
        ldi(20, 0),
        put(PCMSK2, 0x10),
        put(PCICR, 4),
        ...Array(20).fill(nop()),
        put(PCICR, 0),
        sei(),
        stay(),
      ],
    });
    off.run(15);
    off.portD.setPin(4, true);
    off.run(100);
    expect(off.cpu.data[20]).toBe(0);
  });
});

describe('timers (chapters 14 and 15)', () => {
  const TIFR1 = 0x36;
  const TIMSK1 = 0x6f;
  const TCCR1B = 0x81;
  const TCNT1L = 0x84;
  const OCR1AL = 0x88;
  const OCR1AH = 0x89;

  it('reads the exact count however seldom the timer wakes', () => {
    const mcu = mcuWith({
      [main]: [put(TCCR1B, 2), ...Array(800).fill(nop()), lds(17, TCNT1L), sts(seen, 17), stay()],
    });
    mcu.run(2000);
    expect(mcu.cpu.data[seen]).toBe(100);
  });

  it('honours a compare value that is set earlier than the one planned', () => {
    const mcu = mcuWith({
      [vector.timer1CompareA]: [inc(20), reti()],
      [main]: [
        ldi(20, 0),
        put(OCR1AH, 0xff),
        put(OCR1AL, 0xff),
        put(TCCR1B, 2),
        put(TIMSK1, 2),
        sei(),
        put(OCR1AH, 0),
        put(OCR1AL, 50),
        stay(),
      ],
    });
    mcu.run(350);
    expect(mcu.cpu.data[20]).toBe(0);
    mcu.run(450);
    expect(mcu.cpu.data[20]).toBe(1);
    mcu.run(450 + 8 * 65536);
    expect(mcu.cpu.data[20]).toBe(2);
  });

  it('does not match a compare value that is past when it is set', () => {
    const mcu = mcuWith({
      [vector.timer1CompareA]: [inc(20), reti()],
      [main]: [
        ldi(20, 0),
        put(OCR1AH, 0xff),
        put(OCR1AL, 0xff),
        put(TCCR1B, 2),
        put(TIMSK1, 2),
        sei(),
        ...Array(800).fill(nop()),
        put(OCR1AH, 0),
        put(OCR1AL, 50),
        stay(),
      ],
    });
    mcu.run(8 * 65_536);
    expect(mcu.cpu.data[20]).toBe(0);
    mcu.run(8 * 65_536 + 500);
    expect(mcu.cpu.data[20]).toBe(1);
  });

  it('clears one flag of TIFR1 and leaves the others', () => {
    const nearlyOver = [put(TCNT1L + 1, 0xff), put(TCNT1L, 0xf0)];
    const compareSoonAfter = [put(OCR1AH, 0), put(OCR1AL, 10)];
    const mcu = mcuWith({
      [main]: [
        ...compareSoonAfter,
        ...nearlyOver,
        put(TCCR1B, 1),
        ...Array(60).fill(nop()),
        lds(17, TIFR1),
        put(TIFR1, 0x02),
        lds(18, TIFR1),
        sts(seen, 17),
        sts(seen + 1, 18),
        stay(),
      ],
    });
    mcu.run(500);
    expect(mcu.cpu.data[seen]! & 0x03).toBe(0x03);
    expect(mcu.cpu.data[seen + 1]! & 0x03).toBe(0x01);
  });
});
