import Type, { type Static } from 'typebox';
import { massClasses } from '../domain/check-masses.ts';

/** Shapes of the scale: how its cells do, a check with masses under way, what came of it. Grams; doubts are standard uncertainties. */

const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const words = <T extends string>(list: readonly T[]) => Type.Enum([...list]);
const Cell = Type.Integer({ minimum: 0, maximum: 5 });
const closed = { additionalProperties: false } as const;

/** Where a mass lies or hangs: in the middle, or off it, to see whether that matters. */
export const massPlaces = ['middle', 'left', 'right', 'front', 'back'] as const;
export type MassPlace = (typeof massPlaces)[number];

/** A cell as it is now. */
const CellNow = Type.Object({
  cell: Cell,
  gramsPerCount: Type.Number(),
  /** Mean of the newest seconds, from the zero last taken; null without a good reading. */
  grams: Nullable(Type.Number()),
  /** Standard error of that mean. */
  standardError: Nullable(Type.Number()),
  /** The load stands still, as far as its noise lets one see. */
  steady: Type.Boolean(),
  /** Zero was taken by hand since the stand was connected. */
  zeroed: Type.Boolean(),
  /** Figures of the stretch that the load has stood still for; null before there is one. */
  health: Nullable(
    Type.Object({
      seconds: Type.Number(),
      readingsPerSecond: Nullable(Type.Number()),
      missingShare: Type.Number(),
      clippedShare: Type.Number(),
      distinctShare: Nullable(Type.Number()),
      noiseGrams: Nullable(Type.Number()),
      driftGramsPerMinute: Nullable(Type.Number()),
      /** Half-width of its 95 % interval. */
      driftHalf: Nullable(Type.Number()),
    }),
  ),
  findings: Type.Array(Type.Object({ code: Type.String(), sentence: Type.String() })),
});
export type CellNow = Static<typeof CellNow>;

const AtLoad = Type.Object({ grams: Type.Number(), load: Type.Number() });
const ClassLine = Nullable(Type.Object({ interval: Type.Number(), leastLoad: Type.Number() }));

/** What the weighings of a check say together. */
const ScaleResult = Type.Object({
  /** Slope in force over the one found, less 1: what every weight is too large by. Its 95 % half-width. */
  slopeError: Type.Number(),
  slopeErrorHalf: Type.Number(),
  gramsPerCount: Type.Number(),
  zeroCount: Type.Number(),
  /** Relative standard doubt of the slope found. */
  slopeDoubt: Type.Number(),
  /** The same of the slope in force: its error counts in full where it is left as it is. */
  doubtAsItIs: Type.Number(),
  spanGrams: Type.Number(),
  nonLinearity: AtLoad,
  hysteresis: Nullable(AtLoad),
  zeroReturn: Nullable(Type.Number()),
  repeatability: Nullable(Type.Number()),
  creep: Nullable(AtLoad),
  /** How far the bend leaves the line, and the probability that chance would bend it as far. */
  bend: Nullable(Type.Object({ grams: Type.Number(), probability: Type.Number() })),
  /** Largest difference of a mass off the middle from the same in the middle, and its 95 % half-width. */
  offCentre: Nullable(Type.Object({ grams: Type.Number(), half: Type.Number(), place: words(massPlaces) })),
  warnings: Type.Array(Type.Object({ code: Type.String(), sentence: Type.String() })),
  /** The class III scale in service that it behaves as, as found and with the line found; null where none is so far off. */
  classAsFound: ClassLine,
  classAsLeft: ClassLine,
  /** Sound: nothing of the scale itself is to be mended. */
  passed: Type.Boolean(),
});
export type ScaleResult = Static<typeof ScaleResult>;

const CheckStep = Type.Object({
  masses: Type.Array(Type.String()),
  place: words(massPlaces),
  load: Type.Number(),
  /** What the scale showed by the line in force, less what it showed empty at first. */
  shown: Type.Number(),
  standardError: Type.Number(),
});

/** A check with masses under way. */
const ScaleCheckView = Type.Object({
  cell: Cell,
  begunAt: Type.String(),
  masses: Type.Array(Type.Object({ name: Type.String(), grams: Type.Number(), doubt: Type.Number() })),
  steps: Type.Array(CheckStep),
  /** A weighing is being taken. */
  weighing: Type.Boolean(),
  /** The masses to put on next, by name; null when all that was suggested is done. */
  next: Nullable(Type.Array(Type.String())),
  /** Weighings that are suggested in all. */
  suggested: Type.Integer(),
  result: Nullable(ScaleResult),
  /** Why there is no result yet. */
  why: Nullable(Type.String()),
});
export type ScaleCheckView = Static<typeof ScaleCheckView>;

/** The newest check on record of a cell. */
const KeptCheck = Type.Object({
  id: Type.String(),
  cell: Cell,
  at: Type.String(),
  days: Type.Number(),
  inDate: Type.Boolean(),
  passed: Type.Boolean(),
  /** Relative standard doubt of the slope in force by this check. */
  doubt: Nullable(Type.Number()),
});
export type KeptCheck = Static<typeof KeptCheck>;

export const ScaleView = Type.Object({
  /** Name of the stand; null while none is connected. */
  stand: Nullable(Type.String()),
  cells: Type.Array(CellNow),
  /** Largest load that the plan lets one expect on a cell, grams. */
  heaviestGrams: Type.Number(),
  /** Nominal masses that make good loads up to that one. */
  suggestedMasses: Type.Array(Type.Number()),
  check: Nullable(ScaleCheckView),
  kept: Type.Array(KeptCheck),
  /** Relative standard doubt of the slope that the next run reckons with, and where it comes from. */
  slopeDoubt: Type.Object({ relative: Type.Number(), from: words(['checks', 'usual'] as const) }),
});
export type ScaleView = Static<typeof ScaleView>;

export const BeginCheckBody = Type.Object(
  {
    cell: Cell,
    masses: Type.Array(
      Type.Object(
        {
          grams: Type.Number({ exclusiveMinimum: 0, maximum: 1e6 }),
          /** Class of the weight, or 'own' for a mass with a doubt of its own. */
          class: words([...massClasses, 'own'] as const),
          /** Standard doubt, for 'own'. */
          doubtGrams: Nullable(Type.Number({ minimum: 0, maximum: 1e5 })),
        },
        closed,
      ),
      { minItems: 1, maxItems: 12 },
    ),
    /** Relative standard doubt that all masses share, one scale having weighed them all. */
    sharedDoubt: Type.Number({ minimum: 0, maximum: 0.1 }),
  },
  closed,
);
export type BeginCheckBody = Static<typeof BeginCheckBody>;

export const WeighBody = Type.Object(
  {
    masses: Type.Array(Type.String({ maxLength: 80 }), { maxItems: 12 }),
    place: words(massPlaces),
  },
  closed,
);
export type WeighBody = Static<typeof WeighBody>;

export const KeepCheckBody = Type.Object({ note: Type.String({ maxLength: 400 }) }, closed);
export type KeepCheckBody = Static<typeof KeepCheckBody>;

export const ZeroBody = Type.Object({ cell: Nullable(Cell) }, closed);
export type ZeroBody = Static<typeof ZeroBody>;
