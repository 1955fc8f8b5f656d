/** How long a run waits for what, and what it takes for granted. Seconds of board time unless said otherwise. */

/** A seed metered last has landed and the scale has followed within this time of the wheel's last pulse: a fall of 1 m takes
 * 0.45 s, a bend in the tube and the bag's bounce as long again. Common practice, no source. */
export const fallSeconds = 1;

/** From the wheel's first pulse until seed arrives as evenly as it leaves the meter: fall and response of the scale. */
export const onsetSeconds = 1.2;

/** From one reading to the next, by the converters' pace. */
export const readingSeconds = 1 / 80;

/** A tare that does not come to rest is taken as it is after so long, with its larger doubt. */
export const tarePatienceSeconds = 20;

/** A catch that does not come to rest is taken as it is after so long with the wheel standing. */
export const settlePatienceSeconds = 15;

/** The run ends even if someone turns on and on after the count. */
export const wheelPatienceSeconds = 60;

/** Taring and waiting for Start together last no longer. */
export const standingPatienceSeconds = 15 * 60;

/** The board turns within this time of `go`, or the start is called off. */
export const startPatienceSeconds = 2;

/** Stop is sent again after so long while the board still says that it turns. */
export const stopAgainSeconds = 0.5;

/** Host seconds without a reading after which the board is given up. */
export const silencePatienceSeconds = 20;

/** The same after this program was started again in mid-run: someone may have to choose the port first. */
export const returnPatienceSeconds = 120;

/** The host's time is handed in every second; what one tick is later than this, the computer stood still. */
export const latestTickSeconds = 2;

/**
 * Relative standard doubt of the scale's slope where no scale check says it, the same in all runs on a stand: check masses of class M1 to M3 are good to a few
 * parts in ten thousand, and a cheap cell's non-linearity and warmth add as much. Common practice, no source.
 */
export const scaleSlopeDoubt = 0.001;

/**
 * Standard wander of the zero of one cell, grams a minute: a 5 kg cell drifts by about 0.1 g a kelvin, and a shed warms or cools by some
 * tenths of a kelvin in a minute. Common practice, no source.
 */
export const zeroDriftGramsPerMinute = 0.03;

/** Relative spread of single seeds about the mean of their species: a fifth to a third in most lots. Common practice, no source. */
export const seedMassSpread = 0.25;

/** Standard deviation of one reading of one standing cell as far as is known before the first, grams. From memory: cheap converter, 5 kg cell. */
export const standingNoiseGrams = 0.05;

/** Speeds so far from the planned one, as a fraction of it, count as on plan. Common practice, no source. */
export const speedTolerance = 0.1;

/** Weighing shall take no larger share of the tolerance band's half-width than this, if waiting can get it there. */
export const weighingShare = 0.1;

/** A change over the window smaller than this share of the band's half-width does not matter. */
export const driftShare = 0.005;

/** A rate whose doubt is larger than this share of it says nothing yet. */
export const largestShownDoubt = 0.5;
