/**
 * The AVR core of avr8js with a clock-event queue and a reset of our own.
 *
 * The queue differs from the stock one in three ways: events of one instant fire in the order in which they were added, an
 * event is off the queue before its callback runs (so a callback may cancel, add or reset freely), and a counter may be asked
 * for its next event worth waking for instead of being called at every tick.
 */
import { CPU } from 'avr8js';

export const cyclesPerSecond = 16_000_000;

/** SRAM of the ATmega328P; the stock default is that of a larger chip. */
const sramBytes = 2048;

type Callback = () => void;

interface ClockEvent {
  readonly cycle: number;
  readonly callback: Callback;
  readonly insideChip: boolean;
}

export class BoardCpu extends CPU {
  /** Cycle of the earliest event, Infinity without one. Read in the run loop's hot path. */
  nextEventCycle = Infinity;
  /** Set by a reset source; the run loop carries it out between two instructions. */
  resetRequested = false;
  /** For callbacks that reschedule themselves every tick: cycles until their next event that matters. */
  readonly #lazyDelays = new Map<Callback, () => number>();
  /** Latest first, so that the earliest is taken from the end. */
  #events: ClockEvent[] = [];

  constructor(flash: Uint8Array) {
    super(new Uint16Array(flash.slice().buffer), sramBytes);
    this.resetRequested = false;
  }

  /** Asked for by the watchdog, in the midst of its clock event. */
  override reset(): void {
    this.resetRequested = true;
  }

  /** Lets `callback`, whenever it reschedules itself, sleep for `delay()` cycles instead. */
  makeLazy(callback: Callback, delay: () => number): void {
    this.#lazyDelays.set(callback, delay);
  }

  /** How the chip's own peripherals ask to be called back; a reset forgets these events. */
  override addClockEvent(callback: Callback, cycles: number): Callback {
    const delay = cycles > 0 ? this.#lazyDelays.get(callback)?.() : undefined;
    this.#insert({ cycle: this.cycles + Math.max(1, delay ?? cycles), callback, insideChip: true });
    return callback;
  }

  /** Calls `callback` at the first instruction boundary at or after `cycle`, resets or not. */
  at(cycle: number, callback: Callback): void {
    this.#insert({ cycle, callback, insideChip: false });
  }

  override updateClockEvent(callback: Callback, cycles: number): boolean {
    const found = this.clearClockEvent(callback);
    if (found) this.addClockEvent(callback, cycles);
    return found;
  }

  override clearClockEvent(callback: Callback): boolean {
    const index = this.#events.findLastIndex((event) => event.callback === callback);
    if (index < 0) return false;
    this.#events.splice(index, 1);
    this.#noteNext();
    return true;
  }

  /** Fires every event that is due. */
  fireDueEvents(): void {
    while (this.nextEventCycle <= this.cycles) {
      const event = this.#events.pop() as ClockEvent;
      this.#noteNext();
      event.callback();
    }
  }

  /** Enters the pending interrupt of the highest priority. The stock core charges two cycles of the four. */
  enterInterrupt(): void {
    super.tick();
    this.cycles += 2;
  }

  /** Program counter, stack pointer and pending interrupts as after a reset; the chip's own clock events forgotten. */
  resetCore(): void {
    super.reset();
    this.resetRequested = false;
    this.#events = this.#events.filter((event) => !event.insideChip);
    this.#noteNext();
  }

  /** Remembers the queue; the function returned puts it back. */
  saveEvents(): () => void {
    const events = this.#events.slice();
    return () => {
      this.#events = events.slice();
      this.#noteNext();
    };
  }

  #insert(event: ClockEvent): void {
    let index = this.#events.length;
    while (index > 0 && (this.#events[index - 1] as ClockEvent).cycle <= event.cycle) index--;
    this.#events.splice(index, 0, event);
    this.#noteNext();
  }

  #noteNext(): void {
    this.nextEventCycle = this.#events.at(-1)?.cycle ?? Infinity;
  }
}
