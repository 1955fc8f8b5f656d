import { createHash } from 'node:crypto';
import { v7 } from 'uuid';
import { DomainError } from '../domain/error.ts';
import { checkedBy, checkedFields } from '../records/check.ts';
import { FieldError } from '../records/errors.ts';
import { type Fields, Id, Moment } from '../records/model.ts';
import { firstRunFields } from '../records/run-fields.ts';
import type { RunLine } from '../records/run-table.ts';
import type { HandCatch } from '../records/types.ts';
import type { PlannedScale, RunFigures, RunPlan } from '../run/types.ts';
import { catchFigures } from './hand-run.ts';
import { calibrationFields, configurationFields, drillFields, mixFields, type Places } from './identity.ts';

/** One line of a table of runs, understood and checked. */
export interface TableRow {
  id: string;
  startedAt: string;
  demo: boolean;
  plan: RunPlan;
  calibrationId: string | null;
  /** Labels of the run. */
  fields: ReturnType<typeof firstRunFields>;
  /** The catch, and what follows from it; null for a run of the stand, whose readings no table holds. */
  hand: { caught: HandCatch; figures: RunFigures } | null;
}

/** A rate that was written with the fifteen digits of a spreadsheet is the same rate. */
const sameRate = 1e-6;

/** A UUID version 7 of this moment that the same words give again: imported twice, a thing is the same thing. */
export function derivedId(at: string, ...words: readonly unknown[]): string {
  const hash = createHash('sha256').update(JSON.stringify(words)).digest();
  return v7({ msecs: Date.parse(at), seq: hash.readUInt32BE(16), random: hash.subarray(0, 16) });
}

function scaleIn(line: RunLine): PlannedScale | null {
  const [low, high, step, closedAt, leverPlay] = [
    line.number('setting scale from'),
    line.number('setting scale to'),
    line.number('setting scale step'),
    line.number('setting scale closed at'),
    line.number('lever play (marks)'),
  ];
  if (low === null || high === null || step === null || closedAt === null || leverPlay === null) return null;
  const configuration = line.text('configuration');
  return { low, high, step, closedAt, leverPlay, configuration, otherConfigurations: [] };
}

function planIn(line: RunLine): RunPlan {
  const confidence = line.number('confidence (fraction)');
  return {
    drill: {
      name: line.text('drill'),
      setting: line.text('setting'),
      rowSpacingMetres: line.neededQuantity('row spacing', 'length'),
      rowSpacingDoubtMetres: line.neededQuantity('row spacing, standard doubt', 'length'),
      circumferenceMetres: line.neededQuantity('wheel circumference', 'length'),
      circumferenceDoubtMetres: line.neededQuantity('wheel circumference, standard doubt', 'length'),
      slip: line.needed('slip (fraction)'),
      slipDoubt: line.needed('slip, standard doubt (fraction)'),
      scale: scaleIn(line),
    },
    rowsCaught: line.needed('rows caught'),
    seed: {
      name: line.text('mix'),
      seedMassGrams: line.needed('mass of one seed (g)'),
      repeatability: line.needed('repeatability (fraction)'),
    },
    target: {
      gramsPerSquareMetre: line.neededQuantity('target rate', 'rate'),
      tolerance: line.needed('tolerance (fraction)'),
      ...(confidence === null ? {} : { confidence }),
    },
    // None for a run of the stand that was thrown away before the wheel turned.
    turns: line.number('turns') ?? 0,
    mode: 'hand',
    plannedSpeedMetresPerSecond: null,
  };
}

/** Stands for what the checks of a single line need not know. */
const anyId = derivedId('2026-01-01T00:00:00.000Z', 'any');

/** The calibration of a line; how many turns were planned for it no table tells. */
export const tableCalibration = (plan: RunPlan, places: Places): Fields<'calibration'> => ({
  ...calibrationFields(plan, places),
  turns: null,
});

/** Same ranges as for what is typed in. */
function checkPlan(plan: RunPlan): void {
  checkedFields('drill', drillFields(plan));
  checkedFields('mix', mixFields(plan));
  const configuration = configurationFields(plan, anyId);
  if (configuration !== null) checkedFields('configuration', configuration);
  checkedFields(
    'calibration',
    tableCalibration(plan, { drillId: anyId, configurationId: null, mixId: anyId }),
  );
}

/** As we write it, and as spreadsheets write it back. */
const isTrue = (cell: string): boolean => cell.toLowerCase() === 'true';

function handIn(line: RunLine, plan: RunPlan): NonNullable<TableRow['hand']> {
  const byEye = line.text('turns counted by eye');
  const caught: HandCatch = {
    ...(byEye === '' ? {} : { countedByEye: isTrue(byEye) }),
    turns: plan.turns,
    grams: line.neededQuantity('catch', 'mass'),
    gramsDoubt: line.neededQuantity('catch, standard doubt', 'mass'),
  };
  if (!(caught.turns > 0 && caught.turns < 1e6)) line.refuse('turns', 'must be more than 0');
  if (!(caught.grams >= 0 && caught.grams < 1e7)) line.refuse('catch', 'must be 0 or more');
  if (!(caught.gramsDoubt >= 0 && caught.gramsDoubt < 1e7)) {
    line.refuse('catch, standard doubt', 'must be 0 or more');
  }
  const figures = catchFigures(plan, caught);
  const [stated, follows] = [line.quantity('rate', 'rate'), figures.rate?.gramsPerSquareMetre ?? null];
  if (stated !== null && (follows === null || Math.abs(stated - follows) > sameRate * follows)) {
    line.refuse('rate', 'does not follow from its turns and its catch: something was changed in one of them');
  }
  return { caught, figures };
}

function setAsideIn(line: RunLine, startedAt: string): TableRow['fields']['setAside'] {
  const why = line.text('set aside because');
  if (why === '') return null;
  return { why, by: line.text('set aside by'), at: line.text('set aside at (UTC)') || startedAt };
}

function idsIn(line: RunLine, startedAt: string): { id: string; calibrationId: string | null } {
  const names = ['drill', 'mix', 'setting', 'turns', 'catch (g)', 'catch (kg)', 'catch (oz)'];
  const id = line.text('run') || derivedId(startedAt, ...names.map((name) => line.text(name)));
  const calibrationId = line.text('calibration') || null;
  return {
    id: checkedBy(Id, id, 'run'),
    calibrationId: calibrationId && checkedBy(Id, calibrationId, 'calibration'),
  };
}

function understood(line: RunLine): TableRow {
  const startedAt = checkedBy<string>(Moment, line.text('started (UTC)'), 'started (UTC)');
  if (Number.isNaN(Date.parse(startedAt))) line.refuse('started (UTC)', 'is no moment at all');
  const source = line.text('source');
  if (source !== 'hand' && source !== 'stand') line.refuse('source', 'is neither hand nor stand');
  const plan = planIn(line);
  checkPlan(plan);
  const ids = idsIn(line, startedAt);
  const fields = firstRunFields(plan.drill.setting, {
    calibrationId: ids.calibrationId,
    settingNumber: line.number('setting (number)'),
    setAside: setAsideIn(line, startedAt),
    note: line.text('note'),
  });
  return {
    ...ids,
    ...{ startedAt, plan, demo: isTrue(line.text('demo')) },
    fields: checkedFields('run', fields),
    hand: source === 'hand' ? handIn(line, plan) : null,
  };
}

/** What a line says. @throws FieldError with the line in its sentence. */
export function tableRow(line: RunLine): TableRow {
  try {
    return understood(line);
  } catch (error) {
    if (error instanceof FieldError && error.message.startsWith('In line')) throw error;
    if (error instanceof FieldError || error instanceof DomainError) {
      throw new FieldError(`/${line.line}`, `In line ${line.line} of the table: ${error.message}`);
    }
    throw error;
  }
}
