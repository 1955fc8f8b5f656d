import { addToHealth, emptyHealth, type HealthRecord } from '../domain/scale-health.ts';
import { judgeHealth, scaleHealth } from '../domain/scale-health-report.ts';
import type { SettingKey } from '../link/settings.ts';
import { cellSeconds, driftGramsPerMinute, noiseCounts, noiseTimes, zeroCountsMost } from './limits.ts';
import {
  type Figure,
  figure,
  grave,
  judged,
  type Remark,
  remark,
  type StandKnown,
  type StepLogic,
} from './types.ts';

/** Every cell with nothing hung on, left alone: noise, drift, zero. */

export interface CellsWork {
  watching: boolean;
  records: readonly HealthRecord[];
}

const cellsOf = ({ identity }: StandKnown): number[] =>
  Array.from({ length: identity.cells }, (_, cell) => cell);

/** Grams a count of a cell, as the board has it. */
export function slopeOf({ settings }: StandKnown, cell: number): number {
  return Number(settings.get(`slope${cell + 1}` as SettingKey) ?? 1e6) / 1e9;
}

const secondsOf = ({ records: [record] }: CellsWork): number =>
  record === undefined || record.firstMicros === null ? 0 : (record.lastMicros! - record.firstMicros) / 1e6;

/** Codes of the health report that a check must fail by; the others are worth a word. */
const graveCodes = new Set(['silent', 'missing', 'clipped', 'stuck', 'coarse', 'noisy', 'drifting']);

function cellRemarks(record: HealthRecord, cell: number, known: StandKnown): Remark[] {
  const slope = slopeOf(known, cell);
  const health = scaleHealth(record, slope);
  const wish = {
    readingsPerSecond: 80,
    noise: noiseTimes * noiseCounts * Math.abs(slope),
    gramsPerMinute: driftGramsPerMinute,
  };
  const number = cell + 1;
  const remarks = judgeHealth(health, wish).map(({ code, sentence }) =>
    remark(`cell-${code}`, { cell: number, sentence }, graveCodes.has(code)),
  );
  const mean = meanOf(record);
  if (mean !== null && Math.abs(mean) > zeroCountsMost)
    remarks.push(grave('zero-far', { cell: number, counts: Math.round(mean) }));
  return remarks;
}

/** Mean count of the good readings in full blocks, or null. */
function meanOf({ origin, blocks }: HealthRecord): number | null {
  const readings = blocks.reduce((sum, block) => sum + block.readings, 0);
  if (origin === null || readings === 0) return null;
  return origin.count + blocks.reduce((sum, block) => sum + block.counts, 0) / readings;
}

function cellFigures(record: HealthRecord, cell: number, known: StandKnown): Figure[] {
  const slope = slopeOf(known, cell);
  const { noise, drift } = scaleHealth(record, slope);
  const mean = meanOf(record);
  const zero = Number(known.settings.get(`zero${cell + 1}` as SettingKey) ?? 0);
  const number = cell + 1;
  return [
    ...(noise === null ? [] : [figure(`noise-${number}`, noise, 'g')]),
    ...(drift === null ? [] : [figure(`drift-${number}`, drift.gramsPerMinute, 'g/min')]),
    ...(mean === null ? [] : [figure(`zero-${number}`, (mean - zero) * slope, 'g')]),
  ];
}

export const cellsStep: StepLogic<CellsWork> = {
  begin: (known) => ({ watching: false, records: cellsOf(known).map(() => emptyHealth) }),
  take(work, input, known) {
    if (input.type === 'act' && input.act.do === 'go' && !work.watching)
      return { work: { ...work, watching: true } };
    if (input.type !== 'reading' || !work.watching) return { work };
    const { boardMicros, counts } = input.reading;
    const records = work.records.map((record, cell) =>
      addToHealth(record, boardMicros, counts[cell] ?? null),
    );
    const next = { ...work, records };
    if (secondsOf(next) < cellSeconds) return { work: next };
    const figures = records.flatMap((record, cell) => cellFigures(record, cell, known));
    const remarks = records.flatMap((record, cell) => cellRemarks(record, cell, known));
    return { work: next, result: judged(figures, remarks) };
  },
  ask: (work) => ({
    code: work.watching ? 'cells-watching' : 'cells',
    values: { seconds: cellSeconds },
    acts: work.watching ? [] : ['go'],
  }),
  live: (work) => (work.watching ? [figure('seconds', secondsOf(work), 's')] : []),
};
