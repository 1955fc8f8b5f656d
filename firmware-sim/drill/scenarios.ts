import type { Scenario, Species, Stated } from './scenario.ts';

/**
 * Scenarios to run. Drill, lot and figures are invented; thousand-seed weights are of the order of 7 CFR 201.46 table 1 (seeds
 * per gram: rye 40, hairy vetch 35, crimson clover 330, radish 75); spreads from run to run follow published bench tests of
 * drills (Yazgi et al. 2017, doi 10.13031/aea.11606: 0.8 to 3.7 %).
 */

const springCoverMix: Species[] = [
  { name: 'cereal rye', massShare: 0.55, thousandSeedGrams: 25, massCv: 0.25 },
  { name: 'hairy vetch', massShare: 0.3, thousandSeedGrams: 28.6, massCv: 0.2 },
  { name: 'crimson clover', massShare: 0.07, thousandSeedGrams: 3.03, massCv: 0.2 },
  { name: 'radish', massShare: 0.08, thousandSeedGrams: 13.3, massCv: 0.3 },
];

function seedMassGrams(mix: readonly Species[]): number {
  return mix.reduce((sum, species) => sum + (species.massShare * species.thousandSeedGrams) / 1000, 0);
}

const stated: Stated = {
  drillName: 'Yard drill, 12 rows',
  seedName: 'Spring cover mix',
  rowSpacingMetres: 0.1905,
  rowSpacingDoubtMetres: 0.001,
  circumferenceMetres: 2.6924,
  circumferenceDoubtMetres: 0.015,
  slip: 0.04,
  slipDoubt: 0.01,
  seedMassGrams: seedMassGrams(springCoverMix),
  repeatability: 0.015,
  gramsPerCount: 0.001,
  gramsPerCountDoubt: 0.0005,
  zeroCount: 84_000,
  targetGramsPerSquareMetre: 6.5,
  tolerance: 0.05,
  turns: 25,
  pulsesPerTurn: 24,
  debounceMicros: 2500,
};

/** One row over one cell, turned by the motor: 25 turns at 65 kg/ha are 86.8 g. */
export const oneRow: Scenario = {
  name: 'one row, spring cover mix',
  stated,
  geometry: {
    rowSpacingMetres: stated.rowSpacingMetres,
    circumferenceMetres: stated.circumferenceMetres,
    slip: stated.slip,
  },
  meter: {
    setting: 32,
    offsetGrams: 0.27,
    gramsPerMark: 0.1,
    bendGramsPerMarkSquared: 0,
    leverPlayMarks: 0,
    repeatability: stated.repeatability,
    flutesPerTurn: 8,
    pulsationDepth: 0.4,
    packing: 1,
    speedEffect: 0,
    referenceTurnsPerMinute: 45,
  },
  mix: springCoverMix,
  hopper: null,
  fall: { seconds: 0.4, spreadSeconds: 0.04, impactMetresPerSecond: 1.5 },
  bag: { emptyGrams: 62, hertz: 6, dampingRatio: 0.2 },
  vibration: {
    whiteGrams: 0.1,
    swingGrams: 0.12,
    swingHertz: 1.4,
    swingDampingRatio: 0.08,
    oncePerTurnGrams: 0.05,
  },
  converter: {
    hertz: 80,
    clockSpread: 0.008,
    countsPerGram: 1 / stated.gramsPerCount,
    zeroCount: stated.zeroCount,
    noiseCounts: 38,
    driftGramsPerMinute: 0.004,
    walkGramsPerRootMinute: 0.003,
    creep: 0.0002,
    creepSeconds: 120,
    humCounts: 4,
    humHertz: 50,
  },
  wheel: { pulsesPerTurn: stated.pulsesPerTurn, duty: 0.5, bounceSeconds: 0.0015, directionSensor: true },
  drive: {
    turnsPerMinute: 45,
    spinUpSeconds: 0.35,
    coastTurns: 0.4,
    coastTurnsSpread: 0.07,
    wander: 0.02,
    wanderSeconds: 3,
    hand: null,
  },
  cells: 1,
  rowsPerCell: 1,
  rowSpread: 0,
  faults: [],
};

/** Six rows, a cell under each. Their own delivery differs by some 4 % (published row spreads: 2 to 8 %). */
export const sixRows: Scenario = {
  ...oneRow,
  name: 'six rows, spring cover mix',
  cells: 6,
  rowSpread: 0.04,
};

/** One row, the wheel turned by hand and unevenly; the person watches the lamp. */
export const byHand: Scenario = {
  ...oneRow,
  name: 'one row, turned by hand',
  drive: {
    ...oneRow.drive,
    wander: 0.06,
    hand: { turnsPerMinute: 35, unevenness: 0.25, startSeconds: null, reactionSeconds: 0.35 },
  },
};
