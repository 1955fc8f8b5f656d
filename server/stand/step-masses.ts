import type { CheckMass } from '../domain/check-masses.ts';
import { checkMassOfClass } from '../domain/check-masses.ts';
import { DomainError } from '../domain/error.ts';
import { calibrateScale, type ScaleCalibration } from '../domain/scale-calibration.ts';
import { slopeDoubt } from '../domain/scale-doubt.ts';
import type { CalibrationStep } from '../domain/scale-steps.ts';
import { grams } from '../domain/units.ts';
import {
  addToWindow,
  emptyWindow,
  isGoodCount,
  isSettled,
  type StillWindow,
  weigh,
} from '../domain/weighing.ts';
import type { Reading } from '../link/readings.ts';
import { type SettingKey, settingFits } from '../link/settings.ts';
import { massShare, noiseTimesMass, weighSeconds } from './limits.ts';
import { slopeOf } from './step-cells.ts';
import {
  type Figure,
  type FoundLine,
  figure,
  grave,
  judged,
  type Remark,
  remark,
  type StandKnown,
  type StepLogic,
  type Turn,
} from './types.ts';

/** Check masses on each cell, up and down: the line from counts to grams, and whether the cell follows it. */

interface Gathering {
  masses: readonly string[];
  window: StillWindow;
  /** Readings whose neighbour came before them: how many, and the sum of their squared differences. */
  pairs: number;
  squares: number;
  newest: number | null;
  fromMicros: number | null;
  seconds: number;
}

export interface MassesWork {
  cell: number;
  masses: readonly CheckMass[];
  steps: readonly CalibrationStep[];
  /** Noise of one reading, counts, of each step. */
  noises: readonly number[];
  gathering: Gathering | null;
  found: readonly FoundLine[];
  figures: readonly Figure[];
  remarks: readonly Remark[];
  /** Settings that the board has yet to take and save. */
  writing: number;
}

/** Five weights of class M2, as a workshop has them, to begin with. */
export const usualMasses: readonly CheckMass[] = [20, 50, 100, 200, 500].map((nominal) =>
  checkMassOfClass('M2', grams(nominal)),
);

const gather = (masses: readonly string[]): Gathering => ({
  masses,
  window: emptyWindow,
  pairs: 0,
  squares: 0,
  newest: null,
  fromMicros: null,
  seconds: 0,
});

function withReading(each: Gathering, { boardMicros, counts }: Reading, cell: number): Gathering {
  const count = counts[cell];
  const fromMicros = each.fromMicros ?? boardMicros;
  const seconds = (boardMicros - fromMicros) / 1e6;
  if (!isGoodCount(count)) return { ...each, newest: null, fromMicros, seconds };
  return {
    ...each,
    window: addToWindow(each.window, boardMicros, count),
    pairs: each.pairs + (each.newest === null ? 0 : 1),
    squares: each.squares + (each.newest === null ? 0 : (count - each.newest) ** 2),
    newest: count,
    fromMicros,
    seconds,
  };
}

/** The step that a gathering amounts to once the load stands still, or has been waited for long enough; null before. */
function stepOf(each: Gathering, gramsPerCount: number): CalibrationStep | null {
  const still = weigh(each.window);
  if (still === null || each.seconds < weighSeconds.least) return null;
  const wish = { standardError: 0.005 / Math.abs(gramsPerCount), drift: 0.01 / Math.abs(gramsPerCount) };
  if (!isSettled(each.window, still, wish) && each.seconds < weighSeconds.most) return null;
  const { grams: counts, drift } = still;
  return {
    masses: each.masses,
    counts,
    standardError: still.doubt.standard,
    drift: { counts: drift.grams, standardError: drift.standardError },
  };
}

/** Largest departure of a load from the line, grams, beside what is allowed there. */
function worstOf(
  { steps, gramsPerCount }: ScaleCalibration,
  noise: number,
): { load: number; off: number; allowed: number } {
  const all = steps.map(({ load, residual }) => ({
    load,
    off: residual,
    allowed: Math.max(massShare * load, noiseTimesMass * noise * Math.abs(gramsPerCount)),
  }));
  return all.reduce((worst, each) =>
    Math.abs(each.off) / each.allowed > Math.abs(worst.off) / worst.allowed ? each : worst,
  );
}

function lineFigures(calibration: ScaleCalibration, cell: number, worst: number): Figure[] {
  const number = cell + 1;
  const { diagnostics } = calibration;
  return [
    figure(`slope-${number}`, calibration.gramsPerCount * 1e9, 'ng/count'),
    figure(`zero-count-${number}`, calibration.zeroCounts),
    figure(`slope-doubt-${number}`, 100 * slopeDoubt(calibration).standard, '%'),
    figure(`worst-mass-${number}`, worst, 'g'),
    figure(`non-linearity-${number}`, diagnostics.nonLinearity.grams, 'g'),
    ...(diagnostics.hysteresis === null
      ? []
      : [figure(`hysteresis-${number}`, diagnostics.hysteresis.grams, 'g')]),
    ...(diagnostics.zeroReturn === null
      ? []
      : [figure(`zero-return-${number}`, diagnostics.zeroReturn, 'g')]),
  ];
}

const round = (value: number): number => Number(value.toPrecision(2));

/** The cell's masses are done: its line, or why there is none. */
function closeCell(work: MassesWork, known: StandKnown): MassesWork {
  const { cell, masses, steps, noises } = work;
  const number = cell + 1;
  try {
    const used = masses.filter(({ name }) => steps.some((step) => step.masses.includes(name)));
    const calibration = calibrateScale({ masses: used, steps, falling: slopeOf(known, cell) < 0 });
    const noise = noises.reduce((sum, each) => sum + each, 0) / noises.length;
    const worst = worstOf(calibration, noise);
    const bad = Math.abs(worst.off) > worst.allowed;
    const off = { cell: number, load: worst.load, off: round(worst.off), allowed: round(worst.allowed) };
    const remarks = [
      ...(bad ? [grave('mass-off', off)] : []),
      ...calibration.warnings.map(({ code, sentence }) =>
        remark(`scale-${code}`, { cell: number, sentence }),
      ),
      ...slopeRemarks(calibration, cell, known),
    ];
    return {
      ...work,
      found: [...work.found, { cell, masses: used, calibration, passed: !bad }],
      figures: [...work.figures, ...lineFigures(calibration, cell, worst.off)],
      remarks: [...work.remarks, ...remarks],
    };
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    return {
      ...work,
      remarks: [...work.remarks, grave('no-line', { cell: number, sentence: error.message })],
    };
  }
}

/** Whether the board's own line agrees with the one found. */
function slopeRemarks({ gramsPerCount }: ScaleCalibration, cell: number, known: StandKnown): Remark[] {
  const off = slopeOf(known, cell) / gramsPerCount - 1;
  return Math.abs(off) > massShare
    ? [remark('slope-differs', { cell: cell + 1, percent: round(100 * off) })]
    : [];
}

/** Settings that put the lines found into the board. */
export function settingsOfLines(found: readonly FoundLine[]): [SettingKey, string][] {
  return found.flatMap(({ cell, calibration }) => [
    [`slope${cell + 1}` as SettingKey, String(Math.round(calibration.gramsPerCount * 1e9))],
    [`zero${cell + 1}` as SettingKey, String(Math.round(calibration.zeroCounts))],
  ]);
}

const noiseOf = ({ pairs, squares }: Gathering): number => (pairs === 0 ? 0 : Math.sqrt(squares / 2 / pairs));

function withoutValue(work: MassesWork): MassesWork {
  const each = grave('no-values', { cell: work.cell + 1, seconds: weighSeconds.most });
  return { ...work, gathering: null, remarks: [...work.remarks, each] };
}

function onReading(work: MassesWork, reading: Reading, known: StandKnown): Turn<MassesWork> {
  if (work.gathering === null) return { work };
  const gathering = withReading(work.gathering, reading, work.cell);
  const step = stepOf(gathering, slopeOf(known, work.cell));
  // A cell that gives no values is waited for no longer than a load that will not settle.
  if (step === null && gathering.seconds >= weighSeconds.most) return { work: withoutValue(work) };
  if (step === null) return { work: { ...work, gathering } };
  const noises = [...work.noises, noiseOf(gathering)];
  return { work: { ...work, gathering: null, steps: [...work.steps, step], noises } };
}

/** On to the next cell, or the end: then the lines go to the board where somebody said so. */
function goOn(work: MassesWork, known: StandKnown): Turn<MassesWork> {
  const closed = closeCell(work, known);
  if (work.cell + 1 < known.identity.cells) {
    return { work: { ...closed, cell: work.cell + 1, steps: [], noises: [], gathering: null } };
  }
  return { work: { ...closed, steps: [], noises: [], cell: known.identity.cells } };
}

function write(work: MassesWork): Turn<MassesWork> {
  const settings = settingsOfLines(work.found.filter(({ passed }) => passed));
  if (settings.length === 0) return end(work);
  if (!settings.every(([key, value]) => settingFits(key, value)))
    return end(work, [grave('line-not-written')]);
  const send = settings.map(([key, value]) => ({ command: 'set', key, value }) as const);
  return { work: { ...work, writing: send.length }, send };
}

const end = (work: MassesWork, more: readonly Remark[] = []): Turn<MassesWork> => ({
  work,
  result: judged(work.figures, [...work.remarks, ...more]),
});

function onAnswer(work: MassesWork, to: string, ok: boolean): Turn<MassesWork> {
  if (to !== 'set' && to !== 'save') return { work };
  if (!ok) return end({ ...work, writing: 0 }, [grave('line-not-written')]);
  if (to === 'save') return end({ ...work, writing: 0 }, [remark('line-written')]);
  // All or none: saved only once the board has taken every one.
  return work.writing > 1
    ? { work: { ...work, writing: work.writing - 1 } }
    : { work, send: [{ command: 'save' }] };
}

export const massesStep: StepLogic<MassesWork> = {
  begin: () => ({
    cell: 0,
    masses: usualMasses,
    steps: [],
    noises: [],
    gathering: null,
    found: [],
    figures: [],
    remarks: [],
    writing: 0,
  }),
  take(work, input, known) {
    if (input.type === 'answer' && work.writing > 0) return onAnswer(work, input.to, input.ok);
    if (input.type === 'reading') return onReading(work, input.reading, known);
    if (input.type !== 'act' || work.gathering !== null || work.writing > 0) return { work };
    const { act } = input;
    // All cells are done: only whether to keep the lines in the board is open.
    if (work.cell >= known.identity.cells) {
      if (act.do === 'yes') return write(work);
      return act.do === 'no' ? end(work, [remark('line-kept-here')]) : { work };
    }
    if (act.do === 'masses' && work.steps.length === 0) return { work: { ...work, masses: act.masses } };
    if (act.do === 'weigh') return { work: { ...work, gathering: gather(act.masses) } };
    if (act.do === 'undo')
      return { work: { ...work, steps: work.steps.slice(0, -1), noises: work.noises.slice(0, -1) } };
    return act.do === 'go' ? goOn(work, known) : { work };
  },
  ask(work, known) {
    const values = { cell: work.cell + 1, cells: known.identity.cells, weighed: work.steps.length };
    if (work.writing > 0) return { code: 'lines-writing', values, acts: [] };
    if (work.cell >= known.identity.cells) return { code: 'lines-keep', values, acts: ['yes', 'no'] };
    if (work.gathering !== null) return { code: 'weighing', values, acts: [] };
    return { code: 'masses', values, acts: ['masses', 'weigh', 'undo', 'go'] };
  },
  live: ({ gathering }) => (gathering === null ? [] : [figure('seconds', gathering.seconds, 's')]),
};
