import type { RandomStream, Streams } from './random.ts';
import type { Converter } from './scenario.ts';

/** Ends of a signed 24-bit converter; a value there means out of range. */
export const countsLowest = -8388608;
export const countsHighest = 8388607;

/** One cell's strain gauge and converter: grams felt become whole counts, with creep, drift, hum, noise and clipping. */
export class CellConverter {
  /** Seconds from one conversion to the next by this converter's own clock. */
  readonly periodSeconds: number;
  private readonly converter: Converter;
  private readonly noise: RandomStream;
  private readonly walk: RandomStream;
  private readonly driftPerSecond: number;
  private readonly humPhase: number;
  private seconds = 0;
  private walkedGrams = 0;
  private creptGrams = 0;

  constructor(converter: Converter, streams: Streams, cell: number) {
    this.converter = converter;
    this.noise = streams(`noise ${cell}`);
    this.walk = streams(`walk ${cell}`);
    this.driftPerSecond = (converter.driftGramsPerMinute * streams(`drift ${cell}`).normal()) / 60;
    this.humPhase = 2 * Math.PI * streams(`hum ${cell}`).uniform();
    const fast = 1 + converter.clockSpread * streams(`clock ${cell}`).normal();
    this.periodSeconds = 1 / (converter.hertz * Math.max(0.5, fast));
  }

  /** The value finished at `seconds` for the grams felt then. Calls come in order of time. */
  convert(seconds: number, grams: number): number {
    const { countsPerGram, zeroCount, noiseCounts, humCounts, humHertz } = this.converter;
    this.age(seconds, grams);
    const drifted = grams + this.creptGrams + this.walkedGrams + this.driftPerSecond * seconds;
    let counts = zeroCount + countsPerGram * drifted + noiseCounts * this.noise.normal();
    if (humCounts > 0) counts += humCounts * Math.sin(2 * Math.PI * humHertz * seconds + this.humPhase);
    return Math.min(countsHighest, Math.max(countsLowest, Math.round(counts)));
  }

  /** Slow changes of the cell itself since the conversion before. */
  private age(seconds: number, grams: number): void {
    const step = Math.max(0, seconds - this.seconds);
    this.seconds = Math.max(seconds, this.seconds);
    const { walkGramsPerRootMinute, creep, creepSeconds } = this.converter;
    this.walkedGrams += walkGramsPerRootMinute * Math.sqrt(step / 60) * this.walk.normal();
    if (creep === 0) return;
    this.creptGrams += (creep * grams - this.creptGrams) * -Math.expm1(-step / creepSeconds);
  }
}
