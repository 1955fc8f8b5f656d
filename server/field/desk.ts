import { calibrationOf } from '../calibration/find.ts';
import { runsOf } from '../calibration/past.ts';
import { DomainError } from '../domain/error.ts';
import { areaSown, type FieldCheck, type FieldFactor, standRateFor } from '../domain/field-check.ts';
import { combineFieldChecks } from '../domain/field-checks.ts';
import { gramsPerSquareMetre } from '../domain/units.ts';
import type { FieldCheckBody, FieldLine, FieldView, KeptField } from '../http/field-messages.ts';
import type { Item, Store, StoredRun } from '../records/types.ts';
import { geometryOf } from '../run/plan.ts';
import type { RunPlan } from '../run/types.ts';
import { checkOf, held, keptCheckOf, type RunsAtSetting, standRateAt, standRates } from './stand-rate.ts';

/** What was asked about the field cannot be done; the message says why. */
export class FieldDeskError extends Error {
  override name = 'FieldDeskError';
  readonly code: 'unknown-calibration' | 'no-runs' | 'cannot-use';
  readonly field: string | undefined;

  constructor(code: FieldDeskError['code'], message: string, field?: string) {
    super(message);
    this.code = code;
    this.field = field;
  }
}

/** Checks of one calibration, and calibrations to choose from, that are shown. */
const mostChecks = 100;
const mostOthers = 12;

/** A check that comes again so soon, word for word, is the same one: a button pressed twice, or an answer that was lost. */
const sameWithinMillis = 60_000;

/** Largest slip that a plan can hold. */
const mostSlip = 0.5;

interface Facts {
  id: string | null;
  plan: RunPlan;
  runs: StoredRun[];
}

/** Fields sown with a calibration, held against what the stand said. */
export class FieldDesk {
  readonly #store: Store;
  #newest: { key: string; at: number; kept: Promise<unknown> } | null = null;

  constructor(store: Store) {
    this.#store = store;
  }

  /** The field checks of a calibration; `id` null: of the plan in hand. @throws FieldDeskError. */
  async view(plan: RunPlan, id: string | null): Promise<FieldView> {
    const inHand = (await calibrationOf(this.#store, plan))?.id ?? null;
    const facts = await this.#facts(plan, id ?? inHand);
    const kept = facts.id === null ? [] : await this.#kept(facts.id);
    const lines = kept.map((item) => ({ item, found: this.#foundOf(facts, item) }));
    const factors = lines.flatMap(({ found }) => found ?? []);
    const { drill, seed, target } = facts.plan;
    return {
      calibrationId: facts.id,
      inHand: facts.id === inHand,
      drillName: drill.name,
      seedName: seed.name,
      target: target.gramsPerSquareMetre,
      rowSpacingMetres: drill.rowSpacingMetres,
      rowCount: drill.rowCount ?? null,
      slipSet: drill.slip,
      settings: standRates(facts.runs, facts.plan).map(({ setting, runs, stand, low, high }) => ({
        setting,
        rate: stand.rate,
        low,
        high,
        runs,
      })),
      checks: lines.map(({ item, found }) => keptView(item, found)),
      combined: combinedOf(facts.plan, factors),
      others: await this.#others(facts.id),
    };
  }

  /** What a check would say. Nothing is kept. @throws FieldDeskError. */
  async look(plan: RunPlan, id: string | null, body: FieldCheckBody): Promise<FieldLine> {
    const facts = await this.#facts(plan, id ?? (await calibrationOf(this.#store, plan))?.id ?? null);
    return lineOf(this.#hold(facts, body));
  }

  /** Keeps a check with its calibration. @throws FieldDeskError. */
  async keep(plan: RunPlan, id: string | null, body: FieldCheckBody): Promise<FieldView> {
    const facts = await this.#facts(plan, id ?? (await calibrationOf(this.#store, plan))?.id ?? null);
    const found = this.#hold(facts, body);
    await this.#once(JSON.stringify([facts.id, body]), () =>
      this.#store.fieldChecks.create(keptFields(facts.id!, body, found)),
    );
    return this.view(plan, id);
  }

  /** Kept twice, one field would count as two, and its factor as better known than it is. */
  async #once(key: string, keep: () => Promise<unknown>): Promise<void> {
    const now = performance.now();
    if (this.#newest?.key !== key || now - this.#newest.at > sameWithinMillis)
      this.#newest = { key, at: now, kept: keep() };
    const { kept } = this.#newest;
    try {
      await kept;
    } catch (error) {
      if (this.#newest?.kept === kept) this.#newest = null;
      throw error;
    }
  }

  /** Deletes a check; undoable for 30 days. */
  async remove(plan: RunPlan, id: string | null, checkId: string): Promise<FieldView> {
    await this.#store.fieldChecks.remove(checkId);
    this.#newest = null;
    return this.view(plan, id);
  }

  async #facts(plan: RunPlan, id: string | null): Promise<Facts> {
    if (id === null) return { id, plan, runs: [] };
    const calibration = await this.#store.calibrations.find(id);
    if (calibration === null) {
      throw new FieldDeskError('unknown-calibration', 'There is no calibration with this number on record.');
    }
    const runs = await runsOf(this.#store, id);
    const own = (await calibrationOf(this.#store, plan))?.id === id;
    return { id, plan: own ? plan : (runs.at(-1)?.plan ?? plan), runs };
  }

  async #kept(calibrationId: string): Promise<Item<'field-check'>[]> {
    const { items } = await this.#store.fieldChecks.list({ calibrationId, limit: mostChecks });
    return items.filter((item) => item.deletedAt === null).reverse();
  }

  #hold(facts: Facts, body: FieldCheckBody): Found {
    const at = standRateAt(facts.runs, facts.plan, body.setting);
    if (at === null) {
      const message = `No run of this calibration counts at setting ${body.setting}: there is nothing on the stand to hold the field against.`;
      throw new FieldDeskError('no-runs', message, '/setting');
    }
    try {
      const check = checkOf(body);
      return { at, check, factor: held(at, check), ...areaSown(check.area, geometryOf(facts.plan)) };
    } catch (error) {
      if (!(error instanceof DomainError)) throw error;
      throw new FieldDeskError('cannot-use', error.message, fieldOf(error.field));
    }
  }

  #foundOf(facts: Facts, { fields }: Item<'field-check'>): Found | null {
    const check = keptCheckOf(fields);
    const at = fields.setting === null ? null : standRateAt(facts.runs, facts.plan, fields.setting);
    if (check === null || at === null) return null;
    return { at, check, factor: held(at, check), ...areaSown(check.area, geometryOf(facts.plan)) };
  }

  async #others(id: string | null): Promise<FieldView['others']> {
    const { items } = await this.#store.calibrations.list({ limit: mostOthers });
    const others = items.filter((item) => item.id !== id);
    return Promise.all(
      others.map(async ({ id: other, createdAt, fields }) => {
        const [drill, mix] = [
          await this.#store.drills.find(fields.drillId),
          await this.#store.mixes.find(fields.mixId),
        ];
        return { id: other, words: `${drill?.fields.name ?? ''}, ${mix?.fields.name ?? ''}`, at: createdAt };
      }),
    );
  }
}

interface Found {
  at: RunsAtSetting;
  check: FieldCheck;
  factor: FieldFactor;
  area: number;
  relative: number;
}

/** The field of the request that a figure of the domain came from. */
const fieldOf = (name: string | undefined): string | undefined => {
  const places: Record<string, string> = { left: '/leftGrams', filled: '/filledGrams', used: '/filledGrams' };
  return name === undefined ? undefined : (places[name] ?? `/area/${name}`);
};

function lineOf({ at, check, factor, area }: Found): FieldLine {
  const { fieldRate, low, high, slip, correction, suspicious, sentence } = factor;
  return {
    usedGrams: check.used,
    areaSquareMetres: area,
    fieldRate,
    standRate: at.stand.rate,
    runs: at.runs,
    factor: factor.factor,
    low,
    high,
    slip,
    correction,
    suspicious,
    sentence,
  };
}

const keptView = ({ id, fields }: Item<'field-check'>, found: Found | null): KeptField => ({
  id,
  name: fields.name ?? '',
  at: fields.at,
  setting: fields.setting,
  usedGrams: fields.seedGrams,
  areaSquareMetres: fields.areaSquareMetres,
  fieldRate: fields.gramsPerSquareMetre,
  line: found && lineOf(found),
});

/** Checks at one setting were all held against one result of the stand, whose doubt then counts once. */
function combinedOf(plan: RunPlan, found: readonly Found[]): FieldView['combined'] {
  if (found.length === 0) return null;
  const settings = new Set(found.map(({ at }) => at.setting));
  const {
    verdict: _,
    beyondDoubt: __,
    ...combined
  } = combineFieldChecks(
    found.map(({ factor }) => factor),
    settings.size === 1 ? 'one' : 'own',
  );
  const { correction, factor } = combined;
  const wanted = gramsPerSquareMetre(plan.target.gramsPerSquareMetre);
  const usable = correction !== null && factor >= 0.2 && factor <= 5;
  return { ...combined, aim: usable ? standRateFor(wanted, factor) : null, slip: slipOf(plan, combined) };
}

/** Slip = 1 - factor x (1 - slip set), where a plan can hold it. Source: as `compareField` of the domain. */
function slipOf(
  plan: RunPlan,
  { factor, low, high, correction }: { factor: number; low: number; high: number; correction: number | null },
): { value: number; doubt: number } | null {
  const rolled = 1 - plan.drill.slip;
  const value = 1 - factor * rolled;
  if (correction === null || value < 0 || value > mostSlip) return null;
  return { value, doubt: ((high - low) / 2 / 1.96) * rolled };
}

function keptFields(calibrationId: string, body: FieldCheckBody, found: Found) {
  const { check, factor, area, relative } = found;
  const { area: sown } = body;
  const rate = factor.fieldRate;
  return {
    calibrationId,
    at: new Date().toISOString(),
    setting: body.setting,
    method: 'seed-used' as const,
    areaSquareMetres: area,
    seedGrams: check.used,
    turns: null,
    count: null,
    gramsPerSquareMetre: rate,
    standardDoubt: rate * Math.hypot(relative, check.usedDoubt / check.used),
    name: body.name,
    seedDoubtGrams: check.usedDoubt,
    areaDoubtSquareMetres: area * relative,
    onStandScale: check.onStandScale,
    driven:
      sown.kind === 'measured'
        ? null
        : {
            distanceMetres: sown.distance,
            distanceDoubtMetres: sown.distanceDoubt,
            widthMetres: sown.kind === 'driven' ? sown.width : null,
            widthDoubtMetres: sown.kind === 'driven' ? sown.widthDoubt : null,
            rows: sown.kind === 'rows' ? sown.rows : null,
          },
    factor: { factor: factor.factor, low: factor.low, high: factor.high },
    note: '',
  };
}
