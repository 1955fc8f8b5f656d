import Type, { type Static } from 'typebox';
import type { Advice, RoundRateRow } from '../domain/advice/types.ts';
import { budgetParts } from '../domain/uncertainty.ts';

/**
 * Shapes of a calibration: its runs, and the advice that follows from them. SI units, settings as numbers of the drill's own scale.
 * A calibration is known by drill, configuration, seed and target of the plan: changing one of these in the plan leads to another.
 */

const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const words = <T extends string>(list: readonly T[]) => Type.Enum([...list]);
const Names = Type.Array(Type.String());

const Interval = Type.Object({ value: Type.Number(), low: Type.Number(), high: Type.Number() });

const Curve = Type.Object({
  offset: Interval,
  perMark: Interval,
  bendProbability: Type.Number(),
  bent: Type.Boolean(),
  repeatability: Interval,
  runs: Type.Integer(),
  settings: Type.Integer(),
});

const Next = Type.Object({
  setting: Type.Number(),
  leverStays: Type.Boolean(),
  interval: Interval,
  openLow: Type.Boolean(),
  openHigh: Type.Boolean(),
  expected: Interval,
  restsOn: Names,
  sentence: Type.String(),
  reason: Type.String(),
});

const Stop = Type.Object({
  done: Type.Boolean(),
  setting: Nullable(Type.Number()),
  probability: Type.Number(),
  moreRuns: Nullable(Type.Number()),
  moreTurns: Nullable(Type.Number()),
  limit: Nullable(words(['noise', 'step', 'lever-play', 'rows', 'common'] as const)),
  /** Not done, but more runs would hardly help. */
  asGoodAsItGets: Type.Boolean(),
  sentence: Type.String(),
  luckyHit: Nullable(Type.String()),
});

const known = words(['measured', 'inferred', 'out of range'] as const);
const ChartLine = Type.Object({ setting: Type.Number(), rate: Interval, known, words: Type.String() });
const RoundRateLine = Type.Object({
  rate: Type.Number(),
  setting: Nullable(Type.Number()),
  interval: Nullable(Interval),
  known,
  words: Type.String(),
});

/** A figure and what it was computed from, unfolded as deep as it goes. */
export const Explanation = Type.Cyclic(
  {
    Explained: Type.Object({
      what: Type.String(),
      value: Nullable(Type.Number()),
      unit: Nullable(words(['g/m²', 'mark', 'g/m² per mark', 'fraction', 'runs', 'turns'] as const)),
      interval: Nullable(Type.Object({ low: Type.Number(), high: Type.Number() })),
      from: Type.Array(Type.Ref('Explained')),
    }),
  },
  'Explained',
);

export const AdviceView = Type.Object({
  state: words(['start', 'go-on', 'done', 'out-of-reach'] as const),
  curve: Nullable(Curve),
  next: Nullable(Next),
  stop: Stop,
  chart: Type.Array(ChartLine),
  leftOut: Type.Array(Type.Object({ name: Type.String(), why: Type.String() })),
  findings: Type.Array(Type.Object({ code: Type.String(), runs: Names, sentence: Type.String() })),
  explanation: Explanation,
});
export type AdviceView = Static<typeof AdviceView>;

/** One run of a calibration, newest last; `name` is how the advice calls it. */
export const CalibrationRunView = Type.Object({
  id: Type.String(),
  name: Type.String(),
  at: Type.String({ description: 'ISO 8601, UTC' }),
  source: words(['stand', 'hand'] as const),
  setting: Nullable(Type.Number()),
  settingText: Type.String(),
  turns: Type.Number(),
  grams: Nullable(Type.Number()),
  /** g/m², with the doubt of this run alone and the parts common to all runs together. */
  rate: Nullable(Interval),
  setAside: Nullable(Type.Object({ why: Type.String(), by: Type.String(), at: Type.String() })),
  /** Whether it is in the model; if not, why. */
  counts: Type.Boolean(),
  whyNot: Nullable(Type.String()),
});
export type CalibrationRunView = Static<typeof CalibrationRunView>;

/** One part of the doubt of a calibration's rate; `relative`: the standard uncertainty that it alone would give the rate. */
export const PartOfDoubt = Type.Object({
  part: words([...budgetParts, 'rows'] as const),
  relative: Type.Number(),
});
export type PartOfDoubt = Static<typeof PartOfDoubt>;

/** The calibration in hand, or one looked at again. `id` is null before its first run. */
export const CalibrationView = Type.Object({
  id: Nullable(Type.String()),
  drillName: Type.String(),
  configuration: Type.String(),
  seedName: Type.String(),
  targetGramsPerSquareMetre: Type.Number(),
  tolerance: Type.Number(),
  confidence: Type.Number(),
  /** Setting scale of the drill; null until someone types it in, and then there is no advice. */
  scale: Nullable(
    Type.Object({
      low: Type.Number(),
      high: Type.Number(),
      step: Type.Number(),
      /** What is written at the marks where that is no number, from the lowest on. */
      marks: Type.Optional(Type.Array(Type.String())),
    }),
  ),
  runs: Type.Array(CalibrationRunView),
  advice: Nullable(AdviceView),
  /** Why there is no advice, or null. */
  whyNoAdvice: Nullable(Type.String()),
  /** The chart read the other way. */
  rounds: Type.Array(RoundRateLine),
  /** The same for rates round in pounds an acre. */
  roundsPerAcre: Type.Array(RoundRateLine),
  /** Names of earlier calibrations of this drill that the advice starts from. */
  past: Names,
  printedChart: Type.Array(Type.Object({ setting: Type.Number(), gramsPerSquareMetre: Type.Number() })),
  /** Relative doubt of the rows caught standing for all, and what their comparison said; null where none was made. */
  rows: Nullable(Type.Object({ doubt: Type.Number(), sentence: Type.String() })),
  /** Bulk density of the seed that the printed chart was made with; null where nobody typed it in. */
  printedChartBulkDensity: Nullable(Type.Number()),
  /** What the doubt of the rate is made of, the largest part first. */
  doubts: Type.Optional(Type.Array(PartOfDoubt)),
});
export type CalibrationView = Static<typeof CalibrationView>;

/** What the computation gives, as it goes out; these fail to compile where the two shapes part. */
export const adviceView = (advice: Advice): AdviceView => advice as AdviceView;
export const roundRates = (rows: readonly RoundRateRow[]): CalibrationView['rounds'] => [...rows];

/** A catch weighed by hand. */
export const HandRunBody = Type.Object(
  {
    /** Number of the run that it becomes, a UUID of version 7: sent again after an answer that was lost, it is the same run. */
    id: Type.Optional(
      Type.String({ pattern: '^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$' }),
    ),
    setting: Type.Number({ minimum: 0, maximum: 10_000 }),
    turns: Type.Number({ exclusiveMinimum: 0, maximum: 2000 }),
    grams: Type.Number({ minimum: 0, maximum: 100_000 }),
    /** Step of the scale's display. */
    scaleStepGrams: Type.Number({ minimum: 0, maximum: 1000 }),
    /** Whether the turns were counted by eye, so that one may be missing. */
    countedByEye: Type.Boolean(),
  },
  { additionalProperties: false },
);
export type HandRunBody = Static<typeof HandRunBody>;

/** The catches of two rows or more, in their order over the drill. */
export const RowsBody = Type.Object(
  {
    turns: Type.Number({ exclusiveMinimum: 0, maximum: 2000 }),
    grams: Type.Array(Type.Number({ minimum: 0, maximum: 100_000 }), { minItems: 2, maxItems: 400 }),
    scaleStepGrams: Type.Number({ minimum: 0, maximum: 1000 }),
    /** Caught in the same turns, not one row after the other. */
    together: Type.Boolean(),
  },
  { additionalProperties: false },
);
export type RowsBody = Static<typeof RowsBody>;

export const SetAsideBody = Type.Object(
  { why: Type.String({ minLength: 1, maxLength: 400, pattern: '\\S' }) },
  { additionalProperties: false },
);
export type SetAsideBody = Static<typeof SetAsideBody>;

/** Rows of the chart on the drill's own lid, and the bulk density they were made with. */
export const PrintedChartBody = Type.Object(
  {
    bulkDensityKilogramsPerCubicMetre: Nullable(Type.Number({ minimum: 50, maximum: 2000 })),
    rows: Type.Array(
      Type.Object(
        {
          setting: Type.Number({ minimum: 0, maximum: 10_000 }),
          gramsPerSquareMetre: Type.Number({ exclusiveMinimum: 0, maximum: 1000 }),
        },
        { additionalProperties: false },
      ),
      { maxItems: 60 },
    ),
  },
  { additionalProperties: false },
);
export type PrintedChartBody = Static<typeof PrintedChartBody>;

/** Which calibrations to list. */
export const CalibrationsAnswer = Type.Object({
  calibrations: Type.Array(
    Type.Object({
      id: Type.String(),
      at: Type.String(),
      drillName: Type.String(),
      seedName: Type.String(),
      targetGramsPerSquareMetre: Type.Number(),
      runs: Type.Integer(),
      chosenSetting: Nullable(Type.Number()),
    }),
  ),
  next: Nullable(Type.String()),
});
export type CalibrationsAnswer = Static<typeof CalibrationsAnswer>;
