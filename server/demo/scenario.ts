import type { Fault } from '../../firmware-sim/drill/faults.ts';
import type { Scenario, Species } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import type { RunPlan } from '../run/types.ts';

/**
 * The spring week of a dealer who does not exist: three drills, four mixes, and who came with what on which day. Drills, lots, figures and days are
 * invented; thousand-seed weights are of the order of what such seed weighs (from memory).
 */

export const drills = {
  brook: {
    name: 'Brook drill, 16 rows',
    rowSpacingMetres: 0.15,
    circumferenceMetres: 2.31,
    slip: 0.03,
    rowCount: 16,
    scale: { low: 0, high: 100, step: 1 },
    leverPlay: 0.25,
    turnsPerMinute: 42,
    byHand: false,
  },
  quarry: {
    name: 'Quarry drill, 20 rows',
    rowSpacingMetres: 0.125,
    circumferenceMetres: 2.08,
    slip: 0.05,
    rowCount: 20,
    scale: { low: 0, high: 60, step: 0.5 },
    leverPlay: 0.12,
    turnsPerMinute: 34,
    byHand: true,
  },
  orchard: {
    name: 'Orchard drill, 13 rows',
    rowSpacingMetres: 0.178,
    circumferenceMetres: 2.75,
    slip: 0.04,
    rowCount: 13,
    scale: { low: 0, high: 80, step: 1 },
    leverPlay: 0.2,
    turnsPerMinute: 45,
    byHand: false,
  },
} as const;

export type DrillKey = keyof typeof drills;

const species = (name: string, massShare: number, thousandSeedGrams: number, massCv = 0.2): Species => ({
  name,
  massShare,
  thousandSeedGrams,
  massCv,
});

export const mixes = {
  barley: {
    name: 'Spring barley, lot 4',
    species: [species('spring barley', 1, 46)],
    density: 650,
    repeatability: 0.01,
  },
  oatsPeas: {
    name: 'Oats and peas',
    species: [species('oats', 0.6, 36), species('field pea', 0.4, 220)],
    density: 700,
    repeatability: 0.015,
  },
  cloverGrass: {
    name: 'Clover and ryegrass mix',
    species: [
      species('perennial ryegrass', 0.7, 2),
      species('red clover', 0.2, 1.8),
      species('white clover', 0.1, 0.7),
    ],
    density: 480,
    repeatability: 0.02,
  },
  vetchPhacelia: {
    name: 'Vetch and phacelia mix',
    species: [species('common vetch', 0.85, 55), species('phacelia', 0.15, 1.9)],
    density: 760,
    repeatability: 0.02,
  },
} as const;

export type MixKey = keyof typeof mixes;

/** Something that people do between two runs or after the last. */
export type Doing =
  | { kind: 'weighed-by-hand'; afterRun: number }
  | { kind: 'set-aside'; run: number; why: string; broughtBack: boolean }
  | { kind: 'note'; text: string }
  | { kind: 'field-check'; squareMetres: number; fieldShare: number };

/** One calibration of the week. */
export interface Visit {
  drill: DrillKey;
  mix: MixKey;
  gate: 'coarse gate' | 'fine gate';
  /** When its first run begins, ISO 8601, UTC. */
  at: string;
  targetGramsPerSquareMetre: number;
  tolerance: number;
  turns: number;
  /** Where the lever stood when the drill came, and the mark at which it truly gives the target. */
  firstSetting: number;
  trueSetting: number;
  /** Runs on the stand at most; without it until the advice says that it is done. */
  mostRuns?: number;
  faults?: Fault[];
  doings?: Doing[];
}

export const visits: readonly Visit[] = [
  {
    ...{ drill: 'brook', mix: 'barley', gate: 'coarse gate', at: '2026-04-13T06:20:00.000Z' },
    ...{ targetGramsPerSquareMetre: 16, tolerance: 0.04, turns: 20, firstSetting: 50, trueSetting: 41.3 },
    doings: [
      { kind: 'note', text: 'Seed box was half full from last autumn; emptied before the first run.' },
    ],
  },
  {
    ...{ drill: 'quarry', mix: 'cloverGrass', gate: 'fine gate', at: '2026-04-13T12:40:00.000Z' },
    ...{ targetGramsPerSquareMetre: 2.6, tolerance: 0.05, turns: 40, firstSetting: 18, trueSetting: 23.8 },
  },
  {
    ...{ drill: 'orchard', mix: 'oatsPeas', gate: 'coarse gate', at: '2026-04-14T07:05:00.000Z' },
    ...{ targetGramsPerSquareMetre: 14, tolerance: 0.08, turns: 25, firstSetting: 30, trueSetting: 37.6 },
    faults: [{ kind: 'tube-blocked', cell: 0, share: 1, afterTurns: 38, forTurns: 12 }],
  },
  {
    ...{ drill: 'brook', mix: 'vetchPhacelia', gate: 'coarse gate', at: '2026-04-15T06:30:00.000Z' },
    ...{ targetGramsPerSquareMetre: 9, tolerance: 0.06, turns: 25, firstSetting: 20, trueSetting: 26.2 },
    doings: [
      { kind: 'weighed-by-hand', afterRun: 3 },
      { kind: 'set-aside', run: 2, why: 'The bag hung against the frame', broughtBack: true },
    ],
  },
  {
    ...{ drill: 'quarry', mix: 'barley', gate: 'coarse gate', at: '2026-04-16T08:15:00.000Z' },
    ...{ targetGramsPerSquareMetre: 17.5, tolerance: 0.035, turns: 20, firstSetting: 30, trueSetting: 34.4 },
  },
  {
    ...{ drill: 'orchard', mix: 'cloverGrass', gate: 'fine gate', at: '2026-04-17T06:50:00.000Z' },
    ...{ targetGramsPerSquareMetre: 3, tolerance: 0.05, turns: 40, firstSetting: 40, trueSetting: 31.7 },
    mostRuns: 1,
    doings: [{ kind: 'note', text: 'Customer had to leave; comes back on Monday.' }],
  },
  {
    ...{ drill: 'orchard', mix: 'barley', gate: 'coarse gate', at: '2026-04-18T07:30:00.000Z' },
    ...{ targetGramsPerSquareMetre: 15, tolerance: 0.05, turns: 20, firstSetting: 40, trueSetting: 43.9 },
    doings: [
      { kind: 'set-aside', run: 2, why: 'Someone leaned on the stand', broughtBack: false },
      { kind: 'field-check', squareMetres: 21_000, fieldShare: 0.96 },
    ],
  },
];

/** Share of the target that the meter would give at the closed mark if its line were drawn on. */
const offsetShare = 0.06;

const seedMassGrams = (parts: readonly Species[]): number =>
  parts.reduce((sum, { massShare, thousandSeedGrams }) => sum + (massShare * thousandSeedGrams) / 1000, 0);

/** What is true of the drill of this visit, as far as its user states it. */
export function scenarioOf(visit: Visit): Scenario {
  const drill = drills[visit.drill];
  const mix = mixes[visit.mix];
  const { rowSpacingMetres, circumferenceMetres, slip } = drill;
  const squareMetresPerTurn = (circumferenceMetres / (1 - slip)) * rowSpacingMetres;
  const gramsPerTurn = visit.targetGramsPerSquareMetre * squareMetresPerTurn;
  const parts = [...mix.species];
  return {
    ...oneRow,
    name: `${drill.name}, ${mix.name}`,
    stated: {
      ...oneRow.stated,
      drillName: drill.name,
      seedName: mix.name,
      ...{ rowSpacingMetres, rowSpacingDoubtMetres: 0.001 },
      ...{ circumferenceMetres, circumferenceDoubtMetres: 0.012 },
      ...{ slip, slipDoubt: 0.01 },
      seedMassGrams: seedMassGrams(parts),
      repeatability: mix.repeatability,
      targetGramsPerSquareMetre: visit.targetGramsPerSquareMetre,
      tolerance: visit.tolerance,
      turns: visit.turns,
    },
    geometry: { rowSpacingMetres, circumferenceMetres, slip },
    meter: {
      ...oneRow.meter,
      setting: visit.firstSetting,
      offsetGrams: gramsPerTurn * offsetShare,
      gramsPerMark: (gramsPerTurn * (1 - offsetShare)) / visit.trueSetting,
      leverPlayMarks: drill.leverPlay,
      repeatability: mix.repeatability,
      // Cereals leave a fluted roller more evenly than chance; seeds of unlike size do not.
      packing: parts.length === 1 ? 0.4 : 1,
    },
    mix: parts,
    drive: {
      ...oneRow.drive,
      turnsPerMinute: drill.turnsPerMinute,
      hand: drill.byHand
        ? { turnsPerMinute: drill.turnsPerMinute, unevenness: 0.2, startSeconds: null, reactionSeconds: 0.3 }
        : null,
    },
    faults: visit.faults ?? [],
  };
}

/** The plan of someone who has this drill before them, for a run at this setting. */
export function planOf(visit: Visit, setting: number): RunPlan {
  const drill = drills[visit.drill];
  const mix = mixes[visit.mix];
  const { stated } = scenarioOf(visit);
  return {
    drill: {
      name: drill.name,
      setting: String(setting),
      rowSpacingMetres: stated.rowSpacingMetres,
      rowSpacingDoubtMetres: stated.rowSpacingDoubtMetres,
      circumferenceMetres: stated.circumferenceMetres,
      circumferenceDoubtMetres: stated.circumferenceDoubtMetres,
      slip: stated.slip,
      slipDoubt: stated.slipDoubt,
      rowCount: drill.rowCount,
      scale: {
        ...drill.scale,
        closedAt: 0,
        leverPlay: drill.leverPlay,
        configuration: visit.gate,
        otherConfigurations: [visit.gate === 'coarse gate' ? 'fine gate' : 'coarse gate'],
      },
    },
    rowsCaught: 1,
    seed: {
      name: mix.name,
      seedMassGrams: stated.seedMassGrams,
      repeatability: mix.repeatability,
      bulkDensityKilogramsPerCubicMetre: mix.density,
    },
    target: { gramsPerSquareMetre: visit.targetGramsPerSquareMetre, tolerance: visit.tolerance },
    turns: visit.turns,
    mode: drill.byHand ? 'hand' : 'motor',
    plannedSpeedMetresPerSecond: null,
  };
}
