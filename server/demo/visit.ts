import { evidenceOf } from '../calibration/evidence.ts';
import { handCatch, handFigures } from '../calibration/hand-run.ts';
import { calibrationFields, type Places } from '../calibration/identity.ts';
import { viewOf } from '../calibration/view.ts';
import type { HandRunBody } from '../http/calibration-messages.ts';
import type { ExportedItem, ExportedRun } from '../records/export-schema.ts';
import { firstRunFields } from '../records/run-fields.ts';
import type { StoredRun } from '../records/types.ts';
import { formulaVersion } from '../run/session-replay.ts';
import type { RunFigures } from '../run/types.ts';
import { Bench } from './bench.ts';
import type { Chronicle } from './ids.ts';
import { type Doing, planOf, scenarioOf, type Visit } from './scenario.ts';

/** One calibration of the week: runs on the imagined drill, each at the setting that the advice on those before names, until it says that it is done. */

/** Items and runs of one visit, as they leave the records. */
export interface VisitRecords {
  items: ExportedItem[];
  runs: ExportedRun[];
}

const mostRuns = 6;
/** From the beginning of one run to that of the next. */
const betweenRunsMillis = 4 * 60_000;
const noStand = { name: '', firmware: '', boot: 0, pulsesPerTurn: 0, cells: [] };
const background = { past: [], chart: null, rowsDoubt: null };

type DoingOf<K extends Doing['kind']> = Extract<Doing, { kind: K }>;

export class VisitMaker {
  readonly #visit: Visit;
  readonly #chronicle: Chronicle;
  readonly #bench: Bench;
  readonly #calibrationId: string;
  readonly #ids: string[] = [];
  readonly #stored: StoredRun[] = [];
  readonly #exported: ExportedRun[] = [];
  #millis: number;

  constructor(visit: Visit, places: Places, chronicle: Chronicle) {
    this.#visit = visit;
    this.#chronicle = chronicle;
    this.#bench = new Bench(scenarioOf(visit), visit.drill, `${visit.drill} ${visit.at}`);
    const fields = calibrationFields(planOf(visit, visit.firstSetting), places);
    this.#calibrationId = chronicle.create('calibration', visit.at, fields);
    this.#ids.push(this.#calibrationId);
    this.#millis = Date.parse(visit.at);
  }

  make(): VisitRecords {
    let setting: number | null = this.#visit.firstSetting;
    for (let count = 1; count <= (this.#visit.mostRuns ?? mostRuns) && setting !== null; count++) {
      this.#standRun(setting);
      const byHand = this.#doings('weighed-by-hand').find(({ afterRun }) => afterRun === count);
      if (byHand !== undefined) this.#handRun(setting);
      for (const { run, why } of this.#doings('set-aside'))
        if (run === count) this.#label(run - 1, why, 'you');
      setting = this.#advised();
    }
    for (const { run, broughtBack } of this.#doings('set-aside')) {
      this.#millis += 60_000;
      if (broughtBack) this.#label(run - 1, null, 'you');
    }
    this.#finish();
    for (const { text } of this.#doings('note')) {
      this.#ids.push(this.#chronicle.create('note', this.#now(), { aboutId: this.#calibrationId, text }));
    }
    for (const check of this.#doings('field-check')) this.#fieldCheck(check);
    return { items: this.#ids.map((id) => this.#chronicle.item(id)), runs: this.#exported };
  }

  #doings<K extends Doing['kind']>(kind: K): DoingOf<K>[] {
    return (this.#visit.doings ?? []).filter((each): each is DoingOf<K> => each.kind === kind);
  }

  #now(): string {
    return new Date(this.#millis).toISOString();
  }

  #view() {
    const plan = planOf(this.#visit, this.#visit.firstSetting);
    const id = this.#calibrationId;
    return viewOf({ id, plan, runs: this.#stored, background, rowsSentence: null });
  }

  /** The setting to try next; null once testing is done. */
  #advised(): number | null {
    const { advice } = this.#view();
    return advice === null || advice.stop.done ? null : (advice.next?.setting ?? null);
  }

  #standRun(setting: number): void {
    const plan = planOf(this.#visit, setting);
    const { figures, trace, journal, stand, millis } = this.#bench.run(plan);
    const startedAt = this.#now();
    this.#keep(startedAt, setting, {
      ...{ startedAt, endedAt: new Date(this.#millis + millis).toISOString() },
      ...{ source: 'stand', plan, stand, hand: null, outcome: figures.outcome ?? 'interrupted' },
      ...{ figures: { ...figures }, trace },
      journal: journal.map(({ hostMillis, kind, text }) => [hostMillis, kind, text]),
    });
    this.#millis += betweenRunsMillis;
    const spoilt = figures.findings.find(({ spoils }) => spoils);
    if (spoilt !== undefined) this.#label(this.#stored.length - 1, spoilt.sentence, 'the trace');
  }

  /** The same again on a kitchen scale, as somebody does who doubts the stand. */
  #handRun(setting: number): void {
    const last = this.#stored.at(-1)!.figures!;
    const body: HandRunBody = {
      ...{ setting, turns: this.#visit.turns, scaleStepGrams: 1, countedByEye: false },
      grams: Math.round(((last.grams ?? 0) / last.turnsDone) * this.#visit.turns * 1.006),
    };
    const plan = { ...planOf(this.#visit, setting), mode: 'hand' as const };
    const figures = handFigures(plan, body);
    const startedAt = this.#now();
    this.#keep(startedAt, setting, {
      ...{ startedAt, endedAt: startedAt, source: 'hand', plan, stand: noStand, hand: handCatch(body) },
      ...{ outcome: figures.outcome ?? 'complete', figures: { ...figures }, trace: [], journal: [] },
    });
    this.#millis += betweenRunsMillis;
  }

  #keep(at: string, setting: number, run: Omit<ExportedRun, 'id' | 'demo' | 'formulaVersion'>): void {
    const fields = firstRunFields(String(setting), { calibrationId: this.#calibrationId });
    const id = this.#chronicle.create('run', at, fields);
    this.#ids.push(id);
    const exported: ExportedRun = { id, demo: true, formulaVersion, ...run };
    this.#exported.push(exported);
    this.#stored.push({
      ...(exported as unknown as StoredRun),
      ...{ figures: run.figures as unknown as RunFigures, calibrationId: this.#calibrationId },
      ...{ settingNumber: setting, settingText: String(setting), setAside: null, note: '' },
      ...{ changedAt: at, deletedAt: null },
    });
  }

  #label(index: number, why: string | null, by: string): void {
    const at = this.#now();
    const setAside = why === null ? null : { why, by, at };
    const run = this.#stored[index]!;
    this.#chronicle.change(run.id, at, { setAside }, by);
    this.#stored[index] = { ...run, setAside };
  }

  /** A calibration that came to an end says at which setting. */
  #finish(): void {
    const { advice } = this.#view();
    if (advice?.stop.done !== true) return;
    const at = this.#now();
    this.#chronicle.change(this.#calibrationId, at, { chosenSetting: advice.stop.setting, finishedAt: at });
  }

  #fieldCheck({ squareMetres, fieldShare }: DoingOf<'field-check'>): void {
    this.#millis += 6 * 3600_000;
    const plan = planOf(this.#visit, this.#visit.firstSetting);
    const rates = this.#stored.flatMap((run) => evidenceOf(run, '', plan)?.rate ?? []);
    const rate = (rates.at(-1) ?? 0) * fieldShare;
    const at = this.#now();
    const fields = {
      ...{ calibrationId: this.#calibrationId, at, setting: this.#view().advice?.stop.setting ?? null },
      ...{ method: 'seed-used' as const, areaSquareMetres: squareMetres, turns: null, count: null },
      ...{ seedGrams: Math.round((rate * squareMetres) / 100) * 100, gramsPerSquareMetre: rate },
      ...{ standardDoubt: rate * 0.01, note: 'First field of the Saturday, dry ground.' },
    };
    this.#ids.push(this.#chronicle.create('field-check', at, fields));
  }
}
