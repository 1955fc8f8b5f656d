/** Up to six converters on one clock line, each with its own rate of conversion. */
import { Converter } from './converter.ts';
import { type BoardCpu, cyclesPerSecond } from './cpu.ts';

/** Where the converters' values come from: the part of a world that the converters need. */
export interface ConversionSource {
  /** Converters fitted, 1 to 6. */
  readonly cells: number;
  /** Seconds from one conversion of this cell's converter to its next. */
  conversionPeriod(cell: number): number;
  /** The signed 24-bit value of the conversion that this cell's converter finishes at `seconds`. */
  convert(cell: number, seconds: number): number;
}

/** A clock line that stays high for longer than 60 µs powers the converters down. */
const powerDownCycles = (60 * cyclesPerSecond) / 1_000_000;

/** Lines of converters that are not fitted are pulled up. */
const allLines = 0x3f;

export class ConverterBank {
  /** Clock pulses so far; for tests and figures. */
  clockPulses = 0;
  readonly #cpu: BoardCpu;
  readonly #source: ConversionSource;
  readonly #onData: (levels: number) => void;
  readonly #converters: Converter[];
  readonly #conversionEvents: (() => void)[];
  /** Cycle, with fraction, of each converter's next conversion. */
  readonly #due: Float64Array;
  #clock = false;
  #poweredDown = false;

  /** @param onData called with the data lines' levels, bit n for cell n, whenever they may have changed. */
  constructor(cpu: BoardCpu, source: ConversionSource, onData: (levels: number) => void) {
    this.#cpu = cpu;
    this.#source = source;
    this.#onData = onData;
    this.#converters = Array.from({ length: source.cells }, () => new Converter());
    this.#conversionEvents = this.#converters.map((_, cell) => () => this.#convert(cell));
    this.#due = new Float64Array(source.cells);
    this.powerUp();
  }

  /** Cycle of the next conversion of any of the converters, Infinity while they are powered down. */
  get nextConversionCycle(): number {
    return this.#poweredDown ? Infinity : Math.ceil(this.#due.reduce((a, b) => Math.min(a, b)));
  }

  /** Starts all converters anew. */
  powerUp(): void {
    this.#poweredDown = false;
    for (const [cell, converter] of this.#converters.entries()) {
      converter.powerUp();
      this.#due[cell] = this.#cpu.cycles;
      this.#cpu.clearClockEvent(this.#conversionEvents[cell] as () => void);
      this.#planNext(cell);
    }
    this.#report();
  }

  /** The level of the shared clock line, as the board drives it. */
  setClock(high: boolean): void {
    if (high === this.#clock) return;
    this.#clock = high;
    if (high) {
      this.clockPulses++;
      for (const converter of this.#converters) converter.clockRises();
      this.#cpu.at(this.#cpu.cycles + powerDownCycles, this.#powerDown);
      this.#report();
    } else if (this.#poweredDown) this.powerUp();
    else this.#cpu.clearClockEvent(this.#powerDown);
  }

  /** Remembers this moment; the function returned brings it back. */
  save(): () => void {
    const converters = this.#converters.map((converter) => converter.save());
    const due = this.#due.slice();
    const clock = this.#clock;
    const poweredDown = this.#poweredDown;
    const { clockPulses } = this;
    return () => {
      for (const restore of converters) restore();
      this.#due.set(due);
      this.#clock = clock;
      this.#poweredDown = poweredDown;
      this.clockPulses = clockPulses;
    };
  }

  #planNext(cell: number): void {
    this.#due[cell] = (this.#due[cell] as number) + this.#source.conversionPeriod(cell) * cyclesPerSecond;
    this.#cpu.at(Math.ceil(this.#due[cell] as number), this.#conversionEvents[cell] as () => void);
  }

  #convert(cell: number): void {
    const seconds = Math.ceil(this.#due[cell] as number) / cyclesPerSecond;
    (this.#converters[cell] as Converter).complete(this.#source.convert(cell, seconds));
    this.#planNext(cell);
    this.#report();
  }

  readonly #powerDown = (): void => {
    this.#poweredDown = true;
    for (const event of this.#conversionEvents) this.#cpu.clearClockEvent(event);
    for (const converter of this.#converters) converter.powerUp();
    this.#report();
  };

  #report(): void {
    const notFitted = (allLines << this.#converters.length) & allLines;
    this.#onData(this.#converters.reduce((levels, { data }, cell) => levels | (data << cell), notFitted));
  }
}
