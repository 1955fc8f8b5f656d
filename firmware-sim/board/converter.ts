/**
 * A two-wire 24-bit load-cell converter of the HX711 class (Avia Semiconductor, HX711 data sheet, 'Serial Interface').
 *
 * Data low says that a conversion is ready. Each rising clock edge shifts out one bit, most significant first; the 25th sets
 * data high. One or two pulses more choose another gain or input for the conversions that follow.
 */

/**
 * Pulses of a reading: 24 bits and one to three that choose the input and gain of the next conversion. More than 27 before it
 * are outside the data sheet; here they choose nothing.
 */
const valueBits = 24;
const endPulse = 25;
const longestReading = 27;

/** Conversions from power-up, or from a change of gain or input, to the first that is given out: four. */
const settling = 4;

export class Converter {
  /** Level of the data line. */
  data: 0 | 1 = 1;
  /** Clock pulses since the reading began, 0 while none is under way. */
  pulses = 0;
  /** Pulses of the last complete reading, which chose the present gain and input: 25, 26 or 27. */
  selection = endPulse;
  #conversionsToSettle = settling;
  #value = 0;

  /** As after power-up, or after the clock line has been high for longer than 60 µs. */
  powerUp(): void {
    this.data = 1;
    this.pulses = 0;
    this.selection = endPulse;
    this.#conversionsToSettle = settling;
  }

  /** A conversion is complete. It is lost when it falls into a reading, which goes on undisturbed. */
  complete(value: number): void {
    if (this.pulses > 0 && this.pulses < endPulse) return;
    if (this.pulses > 0 && this.pulses <= longestReading && this.pulses !== this.selection) {
      this.selection = this.pulses;
      this.#conversionsToSettle = settling;
    }
    this.pulses = 0;
    if (this.#conversionsToSettle > 1) {
      this.#conversionsToSettle--;
      return;
    }
    this.#value = scaled(value, this.selection);
    this.data = 0;
  }

  /** The clock line rises. A converter that is not ready takes no notice. */
  clockRises(): void {
    if (this.pulses === 0 && this.data === 1) return;
    this.pulses++;
    this.data = this.pulses <= valueBits ? (((this.#value >> (valueBits - this.pulses)) & 1) as 0 | 1) : 1;
  }

  /** Remembers this moment; the function returned brings it back. */
  save(): () => void {
    const { data, pulses, selection } = this;
    const conversions = this.#conversionsToSettle;
    const value = this.#value;
    return () => {
      Object.assign(this, { data, pulses, selection });
      this.#conversionsToSettle = conversions;
      this.#value = value;
    };
  }
}

/** What reaches the output: gain 128 as given, gain 64 halves it, and nothing hangs on the second input. */
function scaled(value: number, selection: number): number {
  if (selection === 27) return value >> 1;
  return selection === 26 ? 0 : value;
}
