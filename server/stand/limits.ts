/** The figures to expect of a sound stand. Those of commissioning.md; a test compares the two. */

/** Turns of the wheel, each way. */
export const wheelTurns = 3;
/** By so many pulses may a person stop beside the mark. */
export const pulsesBeside = 1;
/** Readings a second. */
export const readingsPerSecond = { least: 77, most: 81 };
/** Microseconds of the main loop at worst; bytes of stack never used. */
export const loopWorstMicros = 3000;
export const stackLeastBytes = 400;
/** Readings in which a converter was late or out of step, while watched. */
export const converterFaults = 1;
/** Seconds that the flow of lines and a cell's zero are watched. */
export const flowSeconds = 20;
export const cellSeconds = 60;
/** Noise of one reading, standard, counts: some 90 nV at 2.4 nV a count (from memory), and up to three times that passes. */
export const noiseCounts = 38;
export const noiseTimes = 3;
/** Drift of a cell with nothing hung on, grams a minute. */
export const driftGramsPerMinute = 0.1;
/** A zero beyond half of the converter's range leaves no room for a load. */
export const zeroCountsMost = 4_194_304;
/** A magnet further from its place than this share of the spacing is worth a word. */
export const placeShare = 0.2;
/** What a check mass may be shown off by: this share of it, or twice the noise of a reading. */
export const massShare = 0.001;
export const noiseTimesMass = 2;
/** Turns made by motor, and the longest that the wheel may go on turning afterwards. */
export const motorTurns = 2;
export const coastTurns = 0.5;
/** Seconds until a person is taken to have gone. */
export const patienceSeconds = 120;
/** Seconds that a still load is weighed at least and at most. */
export const weighSeconds = { least: 5, most: 20 };
/** Days until it should be done again. */
export const checkAgainDays = 365;
