import type { Clock } from '../clock.ts';
import { type CheckMass, checkMassOfClass } from '../domain/check-masses.ts';
import { DomainError } from '../domain/error.ts';
import { slopeDoubtParts } from '../domain/scale-doubt.ts';
import { combineDoubts } from '../domain/statistics.ts';
import { type Grams, grams } from '../domain/units.ts';
import type { BeginCheckBody, KeepCheckBody, ScaleView, WeighBody } from '../http/scale-messages.ts';
import { keepStand } from '../records/stands.ts';
import type { Store } from '../records/types.ts';
import { scaleSlopeDoubt } from '../run/limits.ts';
import type { Outcome, SessionFace } from '../run/session-types.ts';
import type { StandFacts } from '../run/types.ts';
import { judged, recordOf, type ScaleCheck } from './check.ts';
import { keptView, newestChecks, slopeDoubtBy } from './kept.ts';
import { suggestedMasses } from './suggest.ts';
import { cellNow, checkView } from './view.ts';
import { goodCounts, heaviestOf, isStill, ScaleWatch } from './watch.ts';

/** What was asked of the scale cannot be done; the message says why, for a mechanic. */
export class ScaleError extends Error {
  override name = 'ScaleError';
  readonly code:
    | 'no-stand'
    | 'no-check'
    | 'run-under-way'
    | 'cannot-use'
    | 'no-weight'
    | 'busy'
    | 'not-written';
  readonly field: string | undefined;

  constructor(code: ScaleError['code'], message: string, field?: string) {
    super(message);
    this.code = code;
    this.field = field;
  }
}

export interface ScaleSurroundings {
  session: SessionFace;
  store: Store;
  clock: Clock;
  /** Writes a cell's line into the board's settings. */
  writeLine?: (cell: number, gramsPerCount: number, zeroCount: number) => Promise<Outcome<unknown>>;
  /** Told before a weighing which load is meant to lie on which cell: an imagined stand has it put on. */
  putOn?: (cell: number, grams: number) => void;
}

/** Batches of a tenth of a second that a weighing takes, and milliseconds after which it is taken as it is. */
const fullWindow = 32;
const weighPatience = 7_000;
/** Time for hands to let go and the load to come to rest before the first reading counts. */
const handsOffMillis = 400;

/** Weighings that a check may hold: many times what one needs. */
const mostSteps = 100;

const underWayKey = 'scale-check';

/** The scale of the connected stand: its cells as they are, one check with masses at a time, and the checks on record. */
export class ScaleDesk {
  readonly watch: ScaleWatch;
  readonly #around: ScaleSurroundings;
  #check: ScaleCheck | null = null;
  #weighing = false;
  #keeping: Promise<void> | null = null;

  constructor(around: ScaleSurroundings) {
    this.#around = around;
    this.watch = new ScaleWatch(around.session);
  }

  /** Takes up a check that an earlier service left. */
  async open(): Promise<void> {
    const kept = (await this.#around.store.setting(underWayKey)) as ScaleCheck | null;
    this.#check ??= kept;
  }

  close(): void {
    this.watch.close();
  }

  async view(): Promise<ScaleView> {
    const { session, store } = this.#around;
    const stand = session.standFacts();
    const heaviest = this.#heaviest();
    const checks = stand === null ? new Map() : await newestChecks(store, stand.name);
    const now = Date.now();
    const checked = stand === null ? null : slopeDoubtBy(checks, stand, now);
    return {
      stand: stand?.name ?? null,
      cells:
        stand === null
          ? []
          : stand.cells.map((line, cell) => cellNow(cell, line, heaviest, this.watch.cells[cell])),
      heaviestGrams: heaviest,
      suggestedMasses: [...suggestedMasses(heaviest)],
      check: this.#check && checkView(this.#check, this.#weighing),
      kept: [...checks.values()].map((item) => keptView(item, stand, now)).sort((a, b) => a.cell - b.cell),
      slopeDoubt: { relative: checked ?? scaleSlopeDoubt, from: checked === null ? 'usual' : 'checks' },
    };
  }

  /** Relative doubt of the slope of this stand's scale by its checks in date; null where some cell has none. */
  async slopeDoubt(stand: StandFacts): Promise<number | null> {
    return slopeDoubtBy(await newestChecks(this.#around.store, stand.name), stand, Date.now());
  }

  /** Shows what the cell, or every cell, carries now as zero. */
  zero(cell: number | null): void {
    this.#connected();
    if (!this.watch.takeZero(cell)) {
      throw new ScaleError(
        'no-weight',
        'There is no weight to take zero from yet: leave the scale alone for a second.',
      );
    }
  }

  /** Begins a check of a cell; one that is under way is given up. */
  async begin(body: BeginCheckBody): Promise<void> {
    const stand = this.#connected();
    this.#noRun();
    const inForce = stand.cells[body.cell];
    if (inForce === undefined) {
      throw new ScaleError('cannot-use', `This stand has ${stand.cells.length} cells.`, '/cell');
    }
    await this.#take({
      cell: body.cell,
      stand: stand.name,
      begunAt: new Date().toISOString(),
      masses: massesOf(body),
      sharedDoubt: body.sharedDoubt,
      heaviest: this.#heaviest(),
      inForce,
      steps: [],
    });
  }

  /** Weighs what lies on the cell now: waits until it is still, then adds it to the check. */
  async weigh({ masses, place }: WeighBody): Promise<void> {
    this.#connected();
    this.#noRun();
    const check = this.#underWay();
    const unknown = masses.find((name) => !check.masses.some((mass) => mass.name === name));
    if (unknown !== undefined) {
      throw new ScaleError('cannot-use', `No check mass of this check is called ${unknown}.`, '/masses');
    }
    if (check.steps.length >= mostSteps) {
      throw new ScaleError(
        'cannot-use',
        'This check has as many weighings as one may have: keep it or begin another.',
      );
    }
    if (this.#weighing) throw new ScaleError('busy', 'A weighing is being taken already.');
    this.#weighing = true;
    try {
      this.#around.putOn?.(check.cell, loadOf(check.masses, masses));
      const weighed = await this.#still(check);
      if (this.#check !== check) return;
      const { grams: counts, doubt, drift } = weighed;
      const step = {
        masses,
        place,
        counts,
        standardError: doubt.standard,
        drift: { counts: drift.grams, standardError: drift.standardError },
      };
      await this.#take({ ...check, steps: [...check.steps, step] });
    } finally {
      this.#weighing = false;
    }
  }

  /** Takes back the last weighing. */
  async undo(): Promise<void> {
    const check = this.#underWay();
    await this.#take({ ...check, steps: check.steps.slice(0, -1) });
  }

  /** Gives the check up; nothing of it is kept. */
  async drop(): Promise<void> {
    const check = this.#underWay();
    this.#around.putOn?.(check.cell, 0);
    await this.#take(null);
  }

  /** Keeps the check with the stand; with `write` the line found is put into the board first. Asked for twice at once it is kept once. */
  keep(body: KeepCheckBody, write = false): Promise<void> {
    this.#keeping ??= this.#keepNow(body, write).finally(() => {
      this.#keeping = null;
    });
    return this.#keeping;
  }

  async #keepNow({ note }: KeepCheckBody, write: boolean): Promise<void> {
    const stand = this.#connected();
    const check = this.#underWay();
    if (check.stand !== stand.name) {
      throw new ScaleError(
        'cannot-use',
        `This check was made on the stand “${check.stand}”, not on “${stand.name}”.`,
      );
    }
    const outcome = judged(check);
    if ('why' in outcome) throw new ScaleError('cannot-use', outcome.why);
    if (write) await this.#write(check, outcome.result);
    const { store } = this.#around;
    const { id } = await keepStand(store, stand.name);
    await store.scaleChecks.create(keptFields(check, outcome, id, { write, note }));
    // Another check may have been begun meanwhile.
    if (this.#check?.begunAt !== check.begunAt) return;
    this.#around.putOn?.(check.cell, 0);
    await this.#take(null);
  }

  async #write(check: ScaleCheck, line: { gramsPerCount: number; zeroCount: number }): Promise<void> {
    const { writeLine } = this.#around;
    if (writeLine === undefined) {
      throw new ScaleError(
        'not-written',
        'This stand takes no settings from the page: keep the check without writing.',
      );
    }
    this.#noRun();
    const written = await writeLine(check.cell, line.gramsPerCount, line.zeroCount);
    if (!written.ok) throw new ScaleError('not-written', written.problem.message);
  }

  /** A load that has come to rest, in counts; after a while one that has not, with its larger doubt. */
  #still({ cell, heaviest, inForce }: ScaleCheck) {
    const { clock } = this.#around;
    const goodEnough = goodCounts(heaviest, inForce.gramsPerCount);
    const began = clock.now();
    let forgotten = false;
    return new Promise<NonNullable<ScaleWatch['cells'][number]['weighing']>>((resolve, reject) => {
      const end = (settle: () => void) => {
        cancel();
        unlook();
        settle();
      };
      const look = () => {
        const waited = clock.now() - began;
        if (!forgotten && waited >= handsOffMillis) {
          forgotten = true;
          this.watch.forget(cell);
        }
        const record = this.watch.cells[cell];
        const full = forgotten && record !== undefined && record.window.batches.length >= fullWindow;
        const weighing = full && isStill(record, goodEnough) ? record.weighing : null;
        if (weighing !== null) end(() => resolve(weighing));
      };
      const giveUp = () => {
        const weighing = this.watch.cells[cell]?.weighing ?? null;
        const message = 'The scale gave no weight: check the cell’s plug, and that the stand is connected.';
        end(() => (weighing === null ? reject(new ScaleError('no-weight', message)) : resolve(weighing)));
      };
      const cancel = clock.after(weighPatience, giveUp);
      const unlook = this.watch.look(look);
    });
  }

  async #take(check: ScaleCheck | null): Promise<void> {
    this.#check = check;
    await this.#around.store.keepSetting(underWayKey, check);
  }

  #connected(): StandFacts {
    const stand = this.#around.session.standFacts();
    if (stand !== null) return stand;
    throw new ScaleError(
      'no-stand',
      `There is no scale to ask. ${this.#around.session.view().link.sentence}`,
    );
  }

  #noRun(): void {
    const { phase } = this.#around.session.view().run.figures;
    if (phase === 'idle' || phase === 'finished') return;
    throw new ScaleError(
      'run-under-way',
      'A run is under way on this scale. Stop it or throw it away first.',
    );
  }

  #underWay(): ScaleCheck {
    if (this.#check !== null) return this.#check;
    throw new ScaleError('no-check', 'No scale check is under way.');
  }

  #heaviest(): number {
    return heaviestOf(this.#around.session.view().plan);
  }
}

const loadOf = (known: readonly CheckMass[], names: readonly string[]): number =>
  names.reduce((sum, name) => sum + (known.find((mass) => mass.name === name)?.grams ?? 0), 0);

/** The masses with names of their own: the second of two alike is '200 g (2)'. */
function massesOf({ masses }: BeginCheckBody): readonly CheckMass[] {
  const taken = new Map<string, number>();
  return masses.map((mass, index) => {
    const made = massOf(mass, index);
    const nth = (taken.get(made.name) ?? 0) + 1;
    taken.set(made.name, nth);
    return nth === 1 ? made : { ...made, name: `${made.name} (${nth})` };
  });
}

function massOf(mass: BeginCheckBody['masses'][number], index: number): CheckMass {
  const nominal = grams(mass.grams);
  if (mass.class === 'own') return ownMass(nominal, mass.doubtGrams, index);
  try {
    return checkMassOfClass(mass.class, nominal);
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    throw new ScaleError('cannot-use', error.message, `/masses/${index}`);
  }
}

function ownMass(mass: Grams, doubtGrams: number | null, index: number): CheckMass {
  if (doubtGrams === null || doubtGrams > mass / 10) {
    const message = 'Say how sure the mass is, in grams: at most a tenth of it.';
    throw new ScaleError('cannot-use', message, `/masses/${index}`);
  }
  const name = mass >= 1000 ? `${mass / 1000} kg` : `${mass} g`;
  return { name, grams: mass, standardDoubt: grams(doubtGrams) };
}

function keptFields(
  check: ScaleCheck,
  { found, result }: Extract<ReturnType<typeof judged>, { found: unknown }>,
  standId: string,
  { write, note }: { write: boolean; note: string },
) {
  const { standard, degreesOfFreedom } = combineDoubts(
    slopeDoubtParts(found, { from: 0, to: found.span / 2 }),
  );
  const masses = new Map(check.masses.map((mass) => [mass.name, mass]));
  const { masses: weights, steps, ...rest } = recordOf(check);
  return {
    at: new Date().toISOString(),
    stand: check.stand,
    standId,
    purpose: write ? ('calibration' as const) : ('check' as const),
    record: {
      ...rest,
      masses: weights.map((mass) => ({ ...mass })),
      steps: steps.map((step) => ({ ...step, masses: [...step.masses] })),
    },
    slopeDoubt: { standard, degreesOfFreedom: Number.isFinite(degreesOfFreedom) ? degreesOfFreedom : null },
    figures: {
      slopeError: result.slopeError,
      nonLinearityGrams: result.nonLinearity.grams,
      hysteresisGrams: result.hysteresis?.grams ?? null,
      zeroReturnGrams: result.zeroReturn,
      repeatabilityGrams: result.repeatability,
      creepGrams: result.creep?.grams ?? null,
      offCentreGrams: result.offCentre?.grams ?? null,
    },
    cell: check.cell,
    points: check.steps.map((step) => ({
      massGrams: loadOf(check.masses, step.masses),
      massDoubtGrams: step.masses.reduce((sum, name) => sum + (masses.get(name)?.standardDoubt ?? 0), 0),
      count: step.counts,
      shownGrams: (step.counts - check.inForce.zeroCount) * check.inForce.gramsPerCount,
    })),
    gramsPerCount: result.gramsPerCount,
    gramsPerCountDoubt: Math.abs(result.gramsPerCount) * result.slopeDoubt,
    zeroCount: result.zeroCount,
    passed: result.passed,
    note,
  };
}
