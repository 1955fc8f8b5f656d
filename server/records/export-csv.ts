import { unitSize } from '../domain/units.ts';
import { InputReader, inputOf } from '../run/session-inputs.ts';
import { type Cell, csvLine } from './csv.ts';
import { type ExportScope, entriesOf, idsOf } from './export.ts';
import type { Store, StoredRun } from './types.ts';

/** Tables for a spreadsheet. Each quantity stands in SI and in the reader's units; the unit is in the heading. */

export type Units = 'metric' | 'us';

interface Unit {
  name: string;
  size: number;
}

const unitsOf: Record<Units, { rate: Unit; mass: Unit; length: Unit; speed: Unit }> = {
  metric: {
    rate: { name: 'kg/ha', size: unitSize.kilogramPerHectare },
    mass: { name: 'kg', size: 1000 },
    length: { name: 'cm', size: unitSize.centimetre },
    speed: { name: 'km/h', size: unitSize.kilometrePerHour },
  },
  us: {
    rate: { name: 'lb/ac', size: unitSize.poundPerAcre },
    mass: { name: 'oz', size: unitSize.ounce },
    length: { name: 'in', size: unitSize.inch },
    speed: { name: 'mph', size: unitSize.milePerHour },
  },
};

/** Heading and value of one column; a quantity makes two. */
interface Column<T> {
  heading: string;
  value: (row: T) => Cell;
}

function quantity<T>(name: string, si: string, unit: Unit, value: (row: T) => number | null): Column<T>[] {
  return [
    { heading: `${name} (${si})`, value },
    {
      heading: `${name} (${unit.name})`,
      value: (row) => {
        const inSi = value(row);
        return inSi === null ? null : inSi / unit.size;
      },
    },
  ];
}

/** Raised when a reader of the edition before could misunderstand a table. */
export const tableEdition = 1;

interface RunRow {
  run: StoredRun;
  configuration: string | null;
}

function runColumns(units: Units): Column<RunRow>[] {
  const { rate, mass, length, speed } = unitsOf[units];
  const rateOf = (pick: (rate: NonNullable<NonNullable<StoredRun['figures']>['rate']>) => number) => {
    return ({ run }: RunRow) => (run.figures?.rate ? pick(run.figures.rate) : null);
  };
  return [
    { heading: 'started (UTC)', value: ({ run }) => run.startedAt },
    { heading: 'drill', value: ({ run }) => run.plan.drill.name },
    { heading: 'configuration', value: ({ configuration }) => configuration },
    { heading: 'mix', value: ({ run }) => run.plan.seed.name },
    { heading: 'setting', value: ({ run }) => run.settingText },
    { heading: 'setting (number)', value: ({ run }) => run.settingNumber },
    { heading: 'source', value: ({ run }) => run.source },
    { heading: 'outcome', value: ({ run }) => run.outcome },
    { heading: 'turns', value: ({ run }) => run.figures?.turnsDone ?? null },
    ...quantity<RunRow>('catch', 'g', mass, ({ run }) => run.figures?.grams ?? null),
    ...quantity<RunRow>('catch, standard doubt', 'g', mass, ({ run }) => run.figures?.gramsDoubt ?? null),
    ...quantity<RunRow>(
      'rate',
      'g/m2',
      rate,
      rateOf(({ gramsPerSquareMetre }) => gramsPerSquareMetre),
    ),
    ...quantity<RunRow>(
      'rate, standard doubt',
      'g/m2',
      rate,
      rateOf(({ standardDoubt }) => standardDoubt),
    ),
    ...quantity<RunRow>(
      'rate, 95 % from',
      'g/m2',
      rate,
      rateOf(({ low }) => low),
    ),
    ...quantity<RunRow>(
      'rate, 95 % to',
      'g/m2',
      rate,
      rateOf(({ high }) => high),
    ),
    ...quantity<RunRow>('target rate', 'g/m2', rate, ({ run }) => run.plan.target.gramsPerSquareMetre),
    { heading: 'tolerance (fraction)', value: ({ run }) => run.plan.target.tolerance },
    { heading: 'rows caught', value: ({ run }) => run.plan.rowsCaught },
    ...quantity<RunRow>('row spacing', 'm', length, ({ run }) => run.plan.drill.rowSpacingMetres),
    ...quantity<RunRow>('wheel circumference', 'm', length, ({ run }) => run.plan.drill.circumferenceMetres),
    { heading: 'slip (fraction)', value: ({ run }) => run.plan.drill.slip },
    ...doubtColumns(length),
    ...quantity<RunRow>(
      'ground speed',
      'm/s',
      speed,
      ({ run }) => run.figures?.groundSpeedMetresPerSecond ?? null,
    ),
    { heading: 'set aside because', value: ({ run }) => run.setAside?.why ?? null },
    { heading: 'set aside by', value: ({ run }) => run.setAside?.by ?? null },
    { heading: 'set aside at (UTC)', value: ({ run }) => run.setAside?.at ?? null },
    { heading: 'note', value: ({ run }) => run.note },
    { heading: 'demo', value: ({ run }) => run.demo },
    { heading: 'edition of the formulas', value: ({ run }) => run.formulaVersion },
    { heading: 'calibration', value: ({ run }) => run.calibrationId },
    { heading: 'run', value: ({ run }) => run.id },
    { heading: 'edition of the table', value: () => tableEdition },
  ];
}

/** What else a catch weighed by hand rests on, so that a table of such runs can come in again. */
function doubtColumns(length: Unit): Column<RunRow>[] {
  const scaleOf = ({ run }: RunRow) => run.plan.drill.scale ?? null;
  return [
    ...quantity<RunRow>(
      'row spacing, standard doubt',
      'm',
      length,
      ({ run }) => run.plan.drill.rowSpacingDoubtMetres,
    ),
    ...quantity<RunRow>(
      'wheel circumference, standard doubt',
      'm',
      length,
      ({ run }) => run.plan.drill.circumferenceDoubtMetres,
    ),
    { heading: 'slip, standard doubt (fraction)', value: ({ run }) => run.plan.drill.slipDoubt },
    { heading: 'mass of one seed (g)', value: ({ run }) => run.plan.seed.seedMassGrams },
    { heading: 'repeatability (fraction)', value: ({ run }) => run.plan.seed.repeatability },
    { heading: 'turns counted by eye', value: ({ run }) => run.hand?.countedByEye ?? null },
    { heading: 'confidence (fraction)', value: ({ run }) => run.plan.target.confidence ?? null },
    { heading: 'setting scale from', value: (row) => scaleOf(row)?.low ?? null },
    { heading: 'setting scale to', value: (row) => scaleOf(row)?.high ?? null },
    { heading: 'setting scale step', value: (row) => scaleOf(row)?.step ?? null },
    { heading: 'setting scale closed at', value: (row) => scaleOf(row)?.closedAt ?? null },
    { heading: 'lever play (marks)', value: (row) => scaleOf(row)?.leverPlay ?? null },
  ];
}

async function configurationName(store: Store, { calibrationId }: StoredRun): Promise<string | null> {
  const calibration = calibrationId === null ? null : await store.calibrations.find(calibrationId);
  const id = calibration?.fields.configurationId ?? null;
  return id === null ? null : ((await store.configurations.find(id))?.fields.name ?? null);
}

/** One line a run, newest first: of a calibration, or of all. */
export async function* runsCsv(
  store: Store,
  scope: Exclude<ExportScope, { run: string }>,
  units: Units,
): AsyncGenerator<string> {
  const columns = runColumns(units);
  yield csvLine(columns.map(({ heading }) => heading));
  const query = scope === 'everything' ? {} : { calibrationId: scope.calibration };
  for await (const id of idsOf(store, 'run', query)) {
    const run = await store.runs.find(id);
    if (run === null) continue;
    const row = { run, configuration: await configurationName(store, run) };
    yield csvLine(columns.map(({ value }) => value(row)));
  }
}

/** One line a reading of one run: what the board sent, decoded, with each cell's grams by the stand's own straight line. */
export async function* readingsCsv(store: Store, run: StoredRun, units: Units): AsyncGenerator<string> {
  const { cells, pulsesPerTurn } = run.stand;
  const { mass } = unitsOf[units];
  yield csvLine([
    ...['host time (s)', 'board time (s)', 'forward (pulses)', 'backward (pulses)', 'turns', 'state', 'why'],
    ...cells.flatMap((_, cell) => [
      `cell ${cell + 1} (count)`,
      `cell ${cell + 1} (g)`,
      `cell ${cell + 1} (${mass.name})`,
    ]),
  ]);
  let reader = new InputReader();
  for await (const entry of entriesOf(store, run.id)) {
    if (entry.kind === 'input') {
      const input = inputOf(entry);
      if ('reader' in input) reader = new InputReader(input.reader);
      if (input.type === 'link-lost') reader.disconnected();
    }
    if (entry.kind !== 'line') continue;
    for (const input of reader.line(entry.text)) {
      if (input.type !== 'reading') continue;
      const { boardMicros, forwardPulses, backwardPulses, state, why, counts } = input.reading;
      const turned = (forwardPulses - backwardPulses) / pulsesPerTurn;
      yield csvLine([
        ...[entry.hostMillis / 1000, boardMicros / 1e6, forwardPulses, backwardPulses, turned, state, why],
        ...cells.flatMap(({ gramsPerCount, zeroCount }, cell) => {
          const count = counts[cell] ?? null;
          const inGrams = count === null ? null : (count - zeroCount) * gramsPerCount;
          return [count, inGrams, inGrams === null ? null : inGrams / mass.size];
        }),
      ]);
    }
  }
}
