import type { Fields } from '../../server/records/model.ts';
import type { JournalEntry, NewRun, RunEnd } from '../../server/records/types.ts';
import type { RunFigures, RunPlan, StandFacts } from '../../server/run/types.ts';

/** A plan for an imagined drill: 25 turns, one row. */
export const plan: RunPlan = {
  drill: {
    name: 'Old Red',
    setting: '31',
    rowSpacingMetres: 0.1905,
    rowSpacingDoubtMetres: 0.001,
    circumferenceMetres: 2.6924,
    circumferenceDoubtMetres: 0.01,
    slip: 0,
    slipDoubt: 0.01,
  },
  rowsCaught: 1,
  seed: { name: 'Meadow mix 4', seedMassGrams: 0.012, repeatability: 0.01 },
  target: { gramsPerSquareMetre: 6.72, tolerance: 0.05 },
  turns: 25,
  mode: 'motor',
  plannedSpeedMetresPerSecond: 2,
};

export const stand: StandFacts = {
  name: 'shop-1',
  firmware: '1.0.0',
  boot: 7,
  pulsesPerTurn: 60,
  cells: [{ gramsPerCount: 0.00123, zeroCount: -4211 }],
};

export const figures: RunFigures = {
  phase: 'finished',
  outcome: 'complete',
  boardWhy: 'preset',
  turnsPreset: 25,
  turnsDone: 25.083333333333332,
  turnsToGo: 0,
  backwardTurns: 0,
  seconds: 31.25,
  grams: 86.1 + 0.2,
  gramsDoubt: 0.1,
  targetCatchGrams: 86.2,
  targetCatchLowGrams: 81.9,
  targetCatchHighGrams: 90.5,
  rate: { gramsPerSquareMetre: 6.7, standardDoubt: 0.1 / 3, low: 6.6, high: 6.8 },
  budget: [{ part: 'weighing', relative: 1 / 3e3, common: false }],
  turnsPerMinute: null,
  groundSpeedMetresPerSecond: null,
  speed: null,
  forecast: null,
  verdict: null,
  findings: [],
  motorOn: false,
  lostReadings: 0,
  gaps: [],
  sentence: 'Done.',
};

let made = 0;

/** A run with an id of its own; later ones sort after earlier ones. */
export function newRun(change: Partial<NewRun> = {}): NewRun {
  made++;
  const id = `018f0000-0000-7000-8000-${String(made).padStart(12, '0')}`;
  return { id, startedAt: '2026-03-02T08:00:00.000Z', demo: false, plan, stand, ...change };
}

export const lines = (count: number, from = 0): JournalEntry[] =>
  Array.from({ length: count }, (_, index) => ({
    position: from + index,
    hostMillis: (from + index) * 12.5,
    kind: 'line',
    text: `R ${from + index} 1000 0 0 9999999 idle - 00 ${from + index}*ABCD`,
  }));

export const end = (entries: number): RunEnd => ({
  endedAt: '2026-03-02T08:01:00.000Z',
  outcome: 'complete',
  figures,
  trace: [
    [0, 0, 0],
    [0.1, 1 / 3, 0.7],
  ],
  formulaVersion: 1,
  entries,
});

export const drill: Fields<'drill'> = {
  name: 'Old Red',
  rowCount: 20,
  rowSpacingMetres: 0.1905,
  rowSpacingDoubtMetres: 0.001,
  circumferenceMetres: 2.6924,
  circumferenceDoubtMetres: 0.01,
  slip: 0.03,
  slipDoubt: 0.01,
  note: '',
};

export const configurationOf = (drillId: string): Fields<'configuration'> => ({
  drillId,
  name: 'gate 2',
  scaleLow: 0,
  scaleHigh: 100,
  scaleStep: 0.5,
  closedAt: 0,
  leverPlay: 0.2,
  printedCharts: [],
  rowCount: null,
  rowSpacingMetres: null,
  rowSpacingDoubtMetres: null,
  note: '',
});

export const lot: Fields<'lot'> = {
  name: 'Bag 12',
  species: 'red clover',
  thousandSeedWeightGrams: 1.7,
  purity: 0.98,
  germination: 0.8,
  hard: 0.1,
  dormant: 0,
  bulkDensityKilogramsPerCubicMetre: 780,
  note: '',
};

export const mix: Fields<'mix'> = {
  name: 'Meadow mix 4',
  basis: 'mass',
  parts: [{ lotId: null, name: 'meadow fescue', share: 1, fullRateGramsPerSquareMetre: null }],
  seedMassGrams: 0.012,
  repeatability: 0.01,
  bulkDensityKilogramsPerCubicMetre: null,
  note: '',
};

export const calibrationOf = (drillId: string, mixId: string): Fields<'calibration'> => ({
  drillId,
  configurationId: null,
  mixId,
  targetGramsPerSquareMetre: 6.72,
  targetText: '60 lb/ac',
  tolerance: 0.05,
  confidence: 0.9,
  turns: 25,
  rowsCaught: 1,
  rowsDoubt: null,
  chosenSetting: null,
  finishedAt: null,
  note: '',
});

/** A check of one cell with two masses, its weighings as they were made. */
export const scaleCheckOf = (at: string, cell = 0): Fields<'scale-check'> => ({
  at,
  stand: 'shop-1',
  cell,
  purpose: 'calibration',
  record: {
    masses: [{ name: '500 g', grams: 500, standardDoubt: 0.05 }],
    steps: [
      { masses: [], counts: -4211, standardError: 3 },
      { masses: ['500 g'], counts: 402_000, standardError: 3, drift: { counts: 2, standardError: 3 } },
    ],
  },
  slopeDoubt: { standard: 2e-4, degreesOfFreedom: null },
  points: [{ massGrams: 500, massDoubtGrams: 0.05, count: 402_000, shownGrams: 500.1 }],
  gramsPerCount: 0.00123,
  gramsPerCountDoubt: 1e-6,
  zeroCount: -4211,
  passed: true,
  note: '',
});

export const standCheckOf = (at: string): Fields<'stand-check'> => ({
  at,
  stand: 'shop-1',
  firmware: '1.0.0',
  boot: 7,
  by: 'Ann',
  passed: true,
  dueAt: `${Number(at.slice(0, 4)) + 1}${at.slice(4)}`,
  steps: [
    {
      step: 'wheel',
      outcome: 'passed',
      figures: [{ name: 'pulses', value: 600, unit: '' }],
      sentences: ['Ten turns gave 600 pulses.'],
    },
  ],
  note: '',
});
