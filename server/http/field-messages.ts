import Type, { type Static } from 'typebox';

/** Shapes of the field checks of a calibration. SI with grams; doubts are standard uncertainties. */

const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const Interval = Type.Object({ low: Type.Number(), high: Type.Number() });
const closed = { additionalProperties: false } as const;
const Doubt = (maximum: number) => Type.Number({ minimum: 0, maximum });
const Grams = Type.Number({ minimum: 0, maximum: 1e9 });
const Distance = Type.Number({ exclusiveMinimum: 0, maximum: 1e6 });

const Measured = Type.Object(
  {
    kind: Type.Literal('measured'),
    area: Type.Number({ exclusiveMinimum: 0, maximum: 1e9 }),
    doubt: Doubt(1e9),
  },
  closed,
);
const Driven = Type.Object(
  {
    kind: Type.Literal('driven'),
    distance: Distance,
    distanceDoubt: Doubt(1e6),
    width: Type.Number({ exclusiveMinimum: 0, maximum: 100 }),
    widthDoubt: Doubt(100),
  },
  closed,
);
const Rows = Type.Object(
  {
    kind: Type.Literal('rows'),
    distance: Distance,
    distanceDoubt: Doubt(1e6),
    rows: Type.Integer({ minimum: 1, maximum: 400 }),
  },
  closed,
);

/** What was done in the field. */
export const FieldCheckBody = Type.Object(
  {
    name: Type.String({ minLength: 1, maxLength: 80 }),
    setting: Type.Number({ minimum: 0, maximum: 10_000 }),
    /** Seed filled in, each time, and seed left at the end. */
    filledGrams: Type.Array(Grams, { minItems: 1, maxItems: 40 }),
    leftGrams: Grams,
    usedDoubtGrams: Doubt(1e9),
    onStandScale: Type.Boolean(),
    area: Type.Union([Measured, Driven, Rows]),
  },
  closed,
);
export type FieldCheckBody = Static<typeof FieldCheckBody>;

/** A field check held against the stand's rate at its setting. */
const FieldLine = Type.Object({
  usedGrams: Type.Number(),
  areaSquareMetres: Type.Number(),
  fieldRate: Type.Number(),
  standRate: Type.Number(),
  /** Runs on the stand at that setting that it is held against. */
  runs: Type.Integer(),
  factor: Type.Number(),
  low: Type.Number(),
  high: Type.Number(),
  /** Slip of the wheel if slip were all there is to it, with its 95 % interval. */
  slip: Type.Object({ value: Type.Number(), low: Type.Number(), high: Type.Number() }),
  correction: Nullable(Type.Number()),
  suspicious: Type.Boolean(),
  sentence: Type.String(),
});
export type FieldLine = Static<typeof FieldLine>;

const KeptField = Type.Object({
  id: Type.String(),
  name: Type.String(),
  at: Type.String(),
  setting: Nullable(Type.Number()),
  usedGrams: Nullable(Type.Number()),
  areaSquareMetres: Nullable(Type.Number()),
  fieldRate: Nullable(Type.Number()),
  /** Null where the stand has no rate at its setting any more. */
  line: Nullable(FieldLine),
});
export type KeptField = Static<typeof KeptField>;

const Combined = Type.Object({
  checks: Type.Integer(),
  factor: Type.Number(),
  low: Type.Number(),
  high: Type.Number(),
  next: Interval,
  /** Real relative spread from field to field. */
  fieldToField: Type.Number(),
  correction: Nullable(Type.Number()),
  sentence: Type.String(),
  /** Rate to aim for on the stand so that the field gets the target; null while there is no correction. */
  aim: Nullable(Type.Number()),
  /** The wheel slip that explains the factor, and its standard doubt; null where no slip can. */
  slip: Nullable(Type.Object({ value: Type.Number(), doubt: Type.Number() })),
});

export const FieldView = Type.Object({
  calibrationId: Nullable(Type.String()),
  /** It is the calibration of the plan in hand: its plan can be changed from here. */
  inHand: Type.Boolean(),
  drillName: Type.String(),
  seedName: Type.String(),
  target: Type.Number(),
  rowSpacingMetres: Type.Number(),
  rowCount: Nullable(Type.Integer()),
  /** Slip that the drill's figures hold already. */
  slipSet: Type.Number(),
  /** Settings that were run on the stand, with the rate there. */
  settings: Type.Array(
    Type.Object({
      setting: Type.Number(),
      rate: Type.Number(),
      low: Type.Number(),
      high: Type.Number(),
      runs: Type.Integer(),
    }),
  ),
  checks: Type.Array(KeptField),
  combined: Nullable(Combined),
  /** Other calibrations on record that a field may have been sown with. */
  others: Type.Array(Type.Object({ id: Type.String(), words: Type.String(), at: Type.String() })),
});
export type FieldView = Static<typeof FieldView>;
