import Type, { type Static } from 'typebox';

/**
 * What people write down and may change later, field by field. Declared once: these schemas type the store, check what goes in, and
 * describe the export. SI units with grams; shares are fractions; doubts are standard uncertainties (one sigma). Ids are UUIDs of
 * version 7 (RFC 9562).
 */

const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const closed = <T extends Type.TProperties>(properties: T) =>
  Type.Object(properties, { additionalProperties: false });
const words = <T extends string>(list: readonly T[]) => Type.Enum([...list]);

export const Id = Type.String({
  pattern: '^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$',
  description: 'UUID version 7',
});
export const Moment = Type.String({
  pattern: '^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}:\\d{2}(\\.\\d{1,9})?Z$',
  description: 'ISO 8601, UTC',
});
const Name = Type.String({ minLength: 1, maxLength: 80 });
const Text = Type.String({ maxLength: 4000 });
const Person = Type.String({ maxLength: 80 });
const Density = Type.Number({ exclusiveMinimum: 0, maximum: 5000 });
const Share = Type.Number({ minimum: 0, maximum: 1 });
const Doubt = Type.Number({ minimum: 0 });
const RowSpacing = Type.Number({ minimum: 0.02, maximum: 3, description: 'metres' });

/** A machine: its rows and the geometry that all its configurations share. */
export const DrillFields = closed({
  name: Name,
  rowCount: Nullable(Type.Integer({ minimum: 1, maximum: 400 })),
  rowSpacingMetres: RowSpacing,
  rowSpacingDoubtMetres: Doubt,
  circumferenceMetres: Type.Number({ minimum: 0.2, maximum: 15 }),
  circumferenceDoubtMetres: Doubt,
  slip: Type.Number({ minimum: 0, maximum: 0.5 }),
  slipDoubt: Doubt,
  /** Turns of the sensed shaft for one of the drive wheel. */
  shaftRatio: Type.Optional(Nullable(Type.Number({ exclusiveMinimum: 0, maximum: 1000 }))),
  /** How the row spacing was found where openers stand in ranks. */
  rowSpacingFrom: Type.Optional(
    Nullable(
      closed({
        withinRankMetres: Type.Number({ exclusiveMinimum: 0, maximum: 30 }),
        ranks: Type.Integer({ minimum: 1, maximum: 10 }),
      }),
    ),
  ),
  /** How the circumference was found. */
  circumferenceFrom: Type.Optional(
    Nullable(
      closed({
        way: words(['tape', 'roll-out', 'field'] as const),
        readings: Type.Array(Type.Number({ exclusiveMinimum: 0, maximum: 10_000 }), { maxItems: 20 }),
        turns: Nullable(Type.Number({ exclusiveMinimum: 0 })),
        distanceMetres: Nullable(Type.Number({ exclusiveMinimum: 0 })),
      }),
    ),
  ),
  note: Text,
});

/** A gate, notch or gear of a drill, with the setting scale that goes with it. Null where it is as on the drill. */
export const ConfigurationFields = closed({
  drillId: Id,
  name: Name,
  scaleLow: Type.Number(),
  scaleHigh: Type.Number(),
  /** Distance between neighbouring marks; null where any setting can be chosen. */
  scaleStep: Nullable(Type.Number({ exclusiveMinimum: 0 })),
  /** Names of the marks where the scale has letters; `scaleLow` is then 1, and so is the step. */
  marks: Type.Optional(Type.Array(Type.String({ minLength: 1, maxLength: 20 }), { maxItems: 60 })),
  /** Mark at which the meter should be closed, usually 0. */
  closedAt: Type.Number(),
  /** Standard spread of where the lever really stands when it is set to a mark, in marks. */
  leverPlay: Doubt,
  /** Rows of the chart on the drill's own lid, as someone typed them in. */
  printedCharts: Type.Array(
    closed({
      name: Name,
      bulkDensityKilogramsPerCubicMetre: Nullable(Density),
      seedMassGrams: Nullable(Type.Number({ exclusiveMinimum: 0, maximum: 5 })),
      rows: Type.Array(
        closed({ setting: Type.Number(), gramsPerSquareMetre: Type.Number({ minimum: 0, maximum: 500 }) }),
        { maxItems: 60 },
      ),
    }),
    { maxItems: 12 },
  ),
  rowCount: Nullable(Type.Integer({ minimum: 1, maximum: 400 })),
  rowSpacingMetres: Nullable(RowSpacing),
  rowSpacingDoubtMetres: Nullable(Doubt),
  note: Text,
});

/** A bag of seed of one species, as its tag and the bench say. */
export const LotFields = closed({
  name: Name,
  species: Type.String({ maxLength: 120 }),
  thousandSeedWeightGrams: Type.Number({ minimum: 0.01, maximum: 5000 }),
  purity: Share,
  germination: Share,
  hard: Share,
  dormant: Share,
  /** Samples counted and weighed on the bench. */
  counted: Type.Optional(
    Nullable(
      closed({
        weightsGrams: Type.Array(Type.Number({ exclusiveMinimum: 0 }), { maxItems: 24 }),
        seedsEach: Type.Integer({ minimum: 1, maximum: 100_000 }),
      }),
    ),
  ),
  bulkDensityKilogramsPerCubicMetre: Nullable(Density),
  note: Text,
});

/** What goes through the drill: one lot or several. */
export const MixFields = closed({
  name: Name,
  /** What the shares are shares of. */
  basis: words(['mass', 'live-seeds', 'full-stand'] as const),
  parts: Type.Array(
    closed({
      lotId: Nullable(Id),
      name: Name,
      share: Share,
      /** Only for shares of a full stand: the rate at which it is sown alone. */
      fullRateGramsPerSquareMetre: Nullable(Type.Number({ exclusiveMinimum: 0, maximum: 500 })),
    }),
    { maxItems: 60 },
  ),
  /** Mass-weighted mean mass of one seed. */
  seedMassGrams: Type.Number({ minimum: 0.00001, maximum: 5 }),
  /** Relative standard deviation from run to run at one setting, beyond seed sampling. */
  repeatability: Type.Number({ minimum: 0, maximum: 0.5 }),
  /** As it lies in the hopper. */
  bulkDensityKilogramsPerCubicMetre: Nullable(Density),
  note: Text,
});

/** The runs made on one drill with one mix for one target. */
export const CalibrationFields = closed({
  drillId: Id,
  configurationId: Nullable(Id),
  mixId: Id,
  targetGramsPerSquareMetre: Type.Number({ minimum: 0.005, maximum: 200 }),
  /** The target as it was typed, in the unit of whoever typed it. */
  targetText: Type.String({ maxLength: 80 }),
  /** Half-width of the band that counts as right, as a fraction of the target. */
  tolerance: Type.Number({ minimum: 0.001, maximum: 0.5 }),
  /** Probability with which the rate shall lie in that band. */
  confidence: Type.Number({ minimum: 0.5, maximum: 0.9999 }),
  turns: Nullable(Type.Number({ minimum: 0.5, maximum: 2000 })),
  rowsCaught: Type.Integer({ minimum: 1, maximum: 400 }),
  /** Relative doubt of the rows caught standing for all; null when they were never compared. */
  rowsDoubt: Nullable(Doubt),
  /** The setting it came to, once it is decided. */
  chosenSetting: Nullable(Type.Number()),
  finishedAt: Nullable(Moment),
  note: Text,
});

/** What may be changed of a run: where it belongs, how it is labelled, whether it counts. What was measured never changes. */
export const RunFields = closed({
  calibrationId: Nullable(Id),
  settingNumber: Nullable(Type.Number()),
  settingText: Type.String({ maxLength: 40 }),
  setAside: Nullable(closed({ why: Type.String({ minLength: 1, maxLength: 400 }), by: Person, at: Moment })),
  note: Text,
});

/** What a table or a report says of something by name: plain figures and words. */
const Figures = Type.Record(
  Type.String({ pattern: '^[a-zA-Z][a-zA-Z0-9]{0,60}$' }),
  Type.Union([Type.Number(), Type.String({ maxLength: 400 }), Type.Boolean(), Type.Null()]),
);

/** A test stand, by the name that its board gives. */
export const StandFields = closed({
  name: Name,
  firmware: Type.String({ maxLength: 80 }),
  pulsesPerTurn: Nullable(Type.Integer({ minimum: 1, maximum: 2000 })),
  cells: Nullable(Type.Integer({ minimum: 1, maximum: 6 })),
  /** The board's settings as it gave them, by their keys. */
  settings: Type.Record(Type.String({ pattern: '^[a-z][a-z0-9]{0,30}$' }), Type.String({ maxLength: 80 })),
  note: Text,
});

/** A stand's commissioning or yearly check: what was done, step by step, and the figures it gave. */
export const StandCheckFields = closed({
  at: Moment,
  /** The name that its board gives. */
  stand: Type.String({ maxLength: 80 }),
  standId: Type.Optional(Nullable(Id)),
  firmware: Type.String({ maxLength: 20 }),
  boot: Type.Integer({ minimum: 0, maximum: 65_535 }),
  by: Person,
  passed: Type.Boolean(),
  /** When it should be done again. */
  dueAt: Moment,
  steps: Type.Array(
    closed({
      step: Type.String({ maxLength: 40 }),
      outcome: words(['passed', 'failed', 'skipped'] as const),
      figures: Type.Array(
        closed({
          name: Type.String({ maxLength: 60 }),
          value: Type.Number(),
          unit: Type.String({ maxLength: 20 }),
        }),
        { maxItems: 60 },
      ),
      sentences: Type.Array(Type.String({ maxLength: 400 }), { maxItems: 40 }),
    }),
    { maxItems: 40 },
  ),
  note: Text,
});

/** A calibration of a scale as it was done, to be computed with again: `CalibrationRecord` of the domain. */
const ScaleRecord = closed({
  masses: Type.Array(
    closed({ name: Name, grams: Type.Number({ exclusiveMinimum: 0 }), standardDoubt: Doubt }),
    { maxItems: 60 },
  ),
  steps: Type.Array(
    closed({
      masses: Type.Array(Name, { maxItems: 60 }),
      counts: Type.Number(),
      standardError: Doubt,
      drift: Type.Optional(closed({ counts: Type.Number(), standardError: Doubt })),
    }),
    { maxItems: 200 },
  ),
  sharedDoubt: Type.Optional(Doubt),
  heaviest: Type.Optional(Type.Number({ exclusiveMinimum: 0 })),
  falling: Type.Optional(Type.Boolean()),
});

/** Known masses put on a load cell, and what came of it. */
export const ScaleCheckFields = closed({
  at: Moment,
  stand: Type.String({ maxLength: 80 }),
  standId: Type.Optional(Nullable(Id)),
  /** A line found anew, or the line in force held against masses. */
  purpose: Type.Optional(words(['calibration', 'check'] as const)),
  record: Type.Optional(Nullable(ScaleRecord)),
  /** Relative standard doubt of the slope with its degrees of freedom (null: known), as `slopeDoubt` of the domain gives it. */
  slopeDoubt: Type.Optional(
    Nullable(closed({ standard: Doubt, degreesOfFreedom: Nullable(Type.Number({ exclusiveMinimum: 0 })) })),
  ),
  /** What else came of it, by name: noise, drift, hysteresis, repeatability. */
  figures: Type.Optional(Figures),
  cell: Type.Integer({ minimum: 0, maximum: 5 }),
  points: Type.Array(
    closed({
      massGrams: Type.Number(),
      massDoubtGrams: Doubt,
      count: Type.Number(),
      shownGrams: Type.Number(),
    }),
    { maxItems: 200 },
  ),
  gramsPerCount: Type.Number(),
  gramsPerCountDoubt: Doubt,
  zeroCount: Type.Number(),
  passed: Type.Boolean(),
  note: Text,
});

/** What the drill did in the field. */
export const FieldCheckFields = closed({
  calibrationId: Id,
  at: Moment,
  setting: Nullable(Type.Number()),
  /** How it was found: seed used on an area, seed caught over a way, turns counted over a way, seeds or plants counted. */
  method: words(['seed-used', 'caught', 'turns-counted', 'seeds-counted', 'plants-counted'] as const),
  areaSquareMetres: Nullable(Type.Number({ exclusiveMinimum: 0 })),
  seedGrams: Nullable(Type.Number({ minimum: 0 })),
  turns: Nullable(Type.Number({ minimum: 0 })),
  count: Nullable(Type.Number({ minimum: 0 })),
  gramsPerSquareMetre: Nullable(Type.Number({ minimum: 0 })),
  standardDoubt: Nullable(Doubt),
  /** How people call it: 'the north field'. */
  name: Type.Optional(Type.String({ maxLength: 80 })),
  seedDoubtGrams: Type.Optional(Nullable(Doubt)),
  areaDoubtSquareMetres: Type.Optional(Nullable(Doubt)),
  /** Weighed on the scale that weighed the catches. */
  onStandScale: Type.Optional(Type.Boolean()),
  /** How the area is known where it was not measured as it is. */
  driven: Type.Optional(
    Nullable(
      closed({
        distanceMetres: Type.Number({ exclusiveMinimum: 0 }),
        distanceDoubtMetres: Doubt,
        widthMetres: Nullable(Type.Number({ exclusiveMinimum: 0 })),
        widthDoubtMetres: Nullable(Doubt),
        rows: Nullable(Type.Integer({ minimum: 1, maximum: 400 })),
      }),
    ),
  ),
  /** Field rate over the stand's, with its 95 % interval; null where it could not be told. */
  factor: Type.Optional(Nullable(closed({ factor: Type.Number(), low: Type.Number(), high: Type.Number() }))),
  /** What else belongs to it, by name. */
  figures: Type.Optional(Figures),
  note: Text,
});

/** What someone has to say about anything on record. */
export const NoteFields = closed({ aboutId: Id, text: Type.String({ minLength: 1, maxLength: 4000 }) });

export const fieldsOf = {
  drill: DrillFields,
  configuration: ConfigurationFields,
  lot: LotFields,
  mix: MixFields,
  calibration: CalibrationFields,
  run: RunFields,
  stand: StandFields,
  'stand-check': StandCheckFields,
  'scale-check': ScaleCheckFields,
  'field-check': FieldCheckFields,
  note: NoteFields,
} as const;

export type Kind = keyof typeof fieldsOf;
export type Fields<K extends Kind> = Static<(typeof fieldsOf)[K]>;
export const kinds = Object.keys(fieldsOf) as Kind[];
export const isKind = (word: string): word is Kind => Object.hasOwn(fieldsOf, word);

/** What each kind is called in a sentence. */
export const namesOf: Record<Kind, string> = {
  drill: 'drill',
  configuration: 'configuration',
  lot: 'lot of seed',
  mix: 'mix',
  calibration: 'calibration',
  run: 'run',
  stand: 'stand',
  'stand-check': 'stand check',
  'scale-check': 'scale check',
  'field-check': 'field check',
  note: 'note',
};

/** Fields that hold the id of something else, and of what kind; null: of any. */
export const referencesOf: Record<Kind, Record<string, Kind | null>> = {
  drill: {},
  configuration: { drillId: 'drill' },
  lot: {},
  mix: {},
  calibration: { drillId: 'drill', configurationId: 'configuration', mixId: 'mix' },
  run: { calibrationId: 'calibration' },
  stand: {},
  'stand-check': { standId: 'stand' },
  'scale-check': { standId: 'stand' },
  'field-check': { calibrationId: 'calibration' },
  note: { aboutId: null },
};
