import { v7 as newId } from 'uuid';
import { DomainError } from '../domain/error.ts';
import type {
  CalibrationView,
  HandRunBody,
  PrintedChartBody,
  RowsBody,
} from '../http/calibration-messages.ts';
import type { Figures } from '../http/messages.ts';
import type { Item, Store, StoredRun } from '../records/types.ts';
import { formulaVersion } from '../run/session-replay.ts';
import type { RunFigures, RunPlan } from '../run/types.ts';
import { calibrationOf, keepCalibration, keepPlaces, placesOf } from './find.ts';
import { handCatch, handFigures } from './hand-run.ts';
import { pastCalibrations, printedChart, runsOf } from './past.ts';
import { comparedRows, rowsDoubtNow, rowsDoubtOf } from './rows.ts';
import { type PastSetUp, pastSetUp } from './set-up.ts';
import { viewOf } from './view.ts';

/** What was asked of the calibrations cannot be done; the message says why, for a mechanic. */
export class DeskError extends Error {
  override name = 'DeskError';
  readonly code: 'unknown-run' | 'unknown-calibration' | 'no-scale' | 'cannot-use';

  constructor(code: DeskError['code'], message: string) {
    super(message);
    this.code = code;
  }
}

/** The run in hand: the session's figures, seen through the shapes of the messages. */
export interface RunNow {
  id: string;
  figures: Figures;
}

/** A plan of our own, or one typed in a moment ago: figures of each out of range are refused by the domain. */
const refused = (error: unknown): never => {
  throw error instanceof DomainError ? new DeskError('cannot-use', error.message) : error;
};

/** How a note begins that tells what a comparison of rows said. */
const rowsNote = 'Rows compared. ';

/** The calibrations: which runs belong together, what they teach, and what people change of them. */
export class Desk {
  readonly #store: Store;
  readonly #demo: boolean;
  readonly #listeners = new Set<() => void>();

  constructor(store: Store, demo: boolean) {
    this.#store = store;
    this.#demo = demo;
  }

  /** Calls the listener whenever a calibration has changed; the returned function ends that. */
  listen(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** The calibration that a run of this plan belongs to, made where there is none. */
  async forRun(plan: RunPlan): Promise<string> {
    const { id } = await keepCalibration(this.#store, plan);
    return id;
  }

  /** A run has ended and is on record. */
  async runClosed(runId: string): Promise<void> {
    await this.#noteSetting(runId);
    this.#changed();
  }

  /** What a calibration can be set up from. */
  past(): Promise<PastSetUp> {
    return pastSetUp(this.#store);
  }

  /** Puts drill, configuration, lots and mix of the plan on record, so that they are there the next time. */
  async keepSetUp(plan: RunPlan): Promise<void> {
    await keepPlaces(this.#store, plan);
  }

  /** The calibration of the plan in hand. */
  async view(plan: RunPlan): Promise<CalibrationView> {
    return this.#viewOf(plan, await calibrationOf(this.#store, plan));
  }

  /** The calibration as it would be if the run in hand ended now with the rate it has: for whoever thinks of stopping it early. */
  async early(plan: RunPlan, run: RunNow): Promise<CalibrationView> {
    return this.#viewOf(plan, await calibrationOf(this.#store, plan), run);
  }

  /** A calibration of the records. @throws DeskError `unknown-calibration`. */
  async look(id: string): Promise<CalibrationView> {
    const calibration = await this.#store.calibrations.find(id);
    const runs = calibration === null ? [] : await runsOf(this.#store, id);
    const newest = runs.at(-1);
    if (calibration === null || newest === undefined) {
      throw new DeskError(
        'unknown-calibration',
        'There is no calibration with this number on record, or it has no runs.',
      );
    }
    return this.#viewOf(newest.plan, calibration);
  }

  /** Adds a catch weighed by hand, once however often it comes with the same id. @throws DeskError. */
  async addHandRun(plan: RunPlan, body: HandRunBody): Promise<CalibrationView> {
    const { scale } = plan.drill;
    if (scale && (body.setting < scale.low || body.setting > scale.high)) {
      throw new DeskError(
        'cannot-use',
        `The setting ${body.setting} is off the scale, which goes from ${scale.low} to ${scale.high}.`,
      );
    }
    const setting = String(body.setting);
    const handPlan: RunPlan = {
      ...plan,
      drill: { ...plan.drill, setting },
      turns: body.turns,
      mode: 'hand',
    };
    let figures: StoredRun['figures'];
    try {
      figures = handFigures(handPlan, body);
    } catch (error) {
      return refused(error);
    }
    const id = body.id ?? newId();
    await this.#store.runs.addByHand({
      id,
      startedAt: new Date().toISOString(),
      demo: this.#demo,
      plan: handPlan,
      calibrationId: await this.forRun(plan),
      settingNumber: body.setting,
      hand: handCatch(body),
      figures: figures!,
      formulaVersion,
    });
    await this.#noteSetting(id);
    this.#changed();
    return this.view(plan);
  }

  /** Compares the rows: from then on the doubt of the drill's rate includes what they differ by. @throws DeskError. */
  async compareRows(plan: RunPlan, body: RowsBody): Promise<CalibrationView> {
    let found: { rowsDoubt: number; sentence: string };
    try {
      const summary = comparedRows(plan, body);
      found = { rowsDoubt: rowsDoubtOf(plan, summary), sentence: summary.sentence };
    } catch (error) {
      return refused(error);
    }
    const { id } = await keepCalibration(this.#store, plan);
    await this.#store.calibrations.update(id, { rowsDoubt: found.rowsDoubt });
    await this.#store.notes.create({ aboutId: id, text: `${rowsNote}${found.sentence}` });
    this.#changed();
    return this.view(plan);
  }

  /** Takes a run out of the computation. It stays on record. @throws DeskError `unknown-run`. */
  async setAside(runId: string, why: string): Promise<void> {
    await this.#known(runId);
    await this.#store.runs.setAside(runId, why, 'you');
    await this.#noteSetting(runId);
    this.#changed();
  }

  /** Lets a run count again. @throws DeskError `unknown-run`. */
  async bringBack(runId: string): Promise<void> {
    await this.#known(runId);
    await this.#store.runs.count(runId, 'you');
    await this.#noteSetting(runId);
    this.#changed();
  }

  /** Ends the plan's calibration, so that the next run begins another. */
  async startAnew(plan: RunPlan): Promise<CalibrationView> {
    const calibration = await calibrationOf(this.#store, plan);
    if (calibration !== null) {
      const finishedAt = new Date().toISOString();
      await this.#store.calibrations.update(calibration.id, { finishedAt });
      this.#changed();
    }
    return this.view(plan);
  }

  /** Keeps the chart of the drill's own lid with its configuration. @throws DeskError `no-scale`. */
  async keepPrintedChart(plan: RunPlan, body: PrintedChartBody): Promise<CalibrationView> {
    const { configurationId } = await keepPlaces(this.#store, plan);
    if (configurationId === null) {
      throw new DeskError(
        'no-scale',
        'Type in the drill’s setting scale first: a printed chart belongs to it.',
      );
    }
    const { rows, bulkDensityKilogramsPerCubicMetre } = body;
    const chart = { name: 'lid', bulkDensityKilogramsPerCubicMetre, seedMassGrams: null, rows };
    await this.#store.configurations.update(configurationId, {
      printedCharts: rows.length === 0 ? [] : [chart],
    });
    this.#changed();
    return this.view(plan);
  }

  /** `now`: figures to take for a run of it that has not ended. */
  async #viewOf(
    plan: RunPlan,
    calibration: Item<'calibration'> | null,
    now: RunNow | null = null,
  ): Promise<CalibrationView> {
    const store = this.#store;
    const places = await placesOf(store, plan);
    const id = calibration?.id ?? null;
    const [runs, past, chart] = [
      id === null ? [] : asIfEnded(await runsOf(store, id), now),
      places === null ? [] : await pastCalibrations(store, plan, places.drillId, id),
      await printedChart(store, plan, places?.configurationId ?? null),
    ];
    return viewOf({
      id,
      plan,
      runs,
      background: {
        past,
        chart,
        rowsDoubt: calibration === null ? null : rowsDoubtNow(plan, calibration.fields),
        scaleDoubt: runs.findLast(({ source }) => source === 'stand')?.stand.scaleSlopeDoubt ?? null,
      },
      rowsSentence: id === null ? null : await this.#rowsSentence(id),
    });
  }

  async #rowsSentence(calibrationId: string): Promise<string | null> {
    const { items } = await this.#store.notes.list({ aboutId: calibrationId, limit: 50 });
    const note = items.find(({ fields }) => fields.text.startsWith(rowsNote));
    return note?.fields.text.slice(rowsNote.length) ?? null;
  }

  async #known(runId: string): Promise<void> {
    if ((await this.#store.runs.find(runId)) === null) {
      throw new DeskError('unknown-run', 'There is no run with this number on record.');
    }
  }

  /** Puts on record which setting the calibration of this run has come to, or that it has come to none. */
  async #noteSetting(runId: string): Promise<void> {
    const id = (await this.#store.runs.find(runId))?.calibrationId ?? null;
    const calibration = id === null ? null : await this.#store.calibrations.find(id);
    if (calibration === null) return;
    const { advice } = await this.look(calibration.id);
    const chosenSetting = advice?.stop.done === true ? advice.stop.setting : null;
    if (chosenSetting === calibration.fields.chosenSetting) return;
    await this.#store.calibrations.update(calibration.id, { chosenSetting });
  }

  #changed(): void {
    for (const listener of this.#listeners) listener();
  }
}

/** The run in hand with the figures it has, as if it had been stopped. */
function asIfEnded(runs: StoredRun[], now: RunNow | null): StoredRun[] {
  if (now === null) return runs;
  const figures: RunFigures = { ...forecastRate(now.figures as RunFigures), outcome: 'stopped' };
  return runs.map((run) => (run.id === now.id && run.figures === null ? { ...run, figures } : run));
}

/** A rate too unsure to be shown still says which way to go: that of the forecast, with its doubt. */
function forecastRate(figures: RunFigures): RunFigures {
  const { rate, forecast } = figures;
  if (rate !== null || forecast === null || !(forecast.gramsPerSquareMetre > 0)) return figures;
  const { gramsPerSquareMetre, low, high } = forecast;
  const standardDoubt = (high - low) / 4;
  return {
    ...figures,
    rate: { gramsPerSquareMetre, low, high, standardDoubt },
    budget: [{ part: 'seed-sampling', relative: standardDoubt / gramsPerSquareMetre, common: false }],
  };
}
