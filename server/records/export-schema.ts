import Type, { type Static } from 'typebox';
import { Id, kinds, Moment } from './model.ts';

/**
 * The form in which records leave and enter as JSON. SI units with grams. Items carry all their edits, and what these come to in `fields`, for
 * readers; runs carry their whole journal: the board's lines as they came, checks included.
 */

const closed = <T extends Type.TProperties>(properties: T) =>
  Type.Object(properties, { additionalProperties: false });
const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const Words = Type.String({ maxLength: 200 });
/** Values by name; what they may be is checked where they are used. */
const Values = Type.Record(Type.String({ pattern: '^[a-zA-Z][a-zA-Z0-9]{0,60}$' }), Type.Unknown());

export const formatName = 'catchbench-records';
/** Raised when a reader of the version before could misunderstand a file. 2: stands, and scale checks that name one. */
export const exportVersion = 2;

export const ExportedEdit = closed({
  id: Id,
  /** New values by field; `deletedAt` is a field of every item. */
  changes: Values,
  by: Type.String({ maxLength: 80, description: 'who made it' }),
  place: Type.String({ maxLength: 255, description: 'on which computer' }),
  at: Moment,
});

export const ExportedItem = closed({
  id: Id,
  kind: Type.Enum([...kinds]),
  createdAt: Moment,
  changedAt: Moment,
  deletedAt: Nullable(Moment),
  fields: Values,
  edits: Type.Array(ExportedEdit, { minItems: 1, maxItems: 100_000, description: 'oldest first' }),
});
export type ExportedItem = Static<typeof ExportedItem>;

const Finite = Type.Number();

/** Drill, seed and target as the run was made with; more may stand there. */
const ExportedPlan = Type.Object({
  drill: Type.Object({
    name: Words,
    setting: Type.String({ maxLength: 40 }),
    rowSpacingMetres: Finite,
    rowSpacingDoubtMetres: Finite,
    circumferenceMetres: Finite,
    circumferenceDoubtMetres: Finite,
    slip: Finite,
    slipDoubt: Finite,
  }),
  rowsCaught: Type.Integer({ minimum: 1, maximum: 400 }),
  seed: Type.Object({ name: Words, seedMassGrams: Finite, repeatability: Finite }),
  target: Type.Object({ gramsPerSquareMetre: Finite, tolerance: Finite }),
  turns: Finite,
  mode: Type.Enum(['motor', 'hand']),
  plannedSpeedMetresPerSecond: Nullable(Finite),
});

const ExportedStand = closed({
  name: Words,
  firmware: Words,
  boot: Type.Integer(),
  pulsesPerTurn: Finite,
  cells: Type.Array(Type.Object({ gramsPerCount: Finite, zeroCount: Finite }), { maxItems: 16 }),
});

export const ExportedRun = closed({
  id: Id,
  startedAt: Moment,
  endedAt: Moment,
  demo: Type.Boolean(),
  source: Type.Enum(['stand', 'hand']),
  plan: ExportedPlan,
  stand: ExportedStand,
  /** Turns and grams typed in; null for a run on the stand. */
  hand: Nullable(
    closed({
      turns: Finite,
      grams: Finite,
      gramsDoubt: Finite,
      countedByEye: Type.Optional(Type.Boolean()),
    }),
  ),
  outcome: Type.String({ maxLength: 40 }),
  figures: Values,
  trace: Type.Array(Type.Tuple([Finite, Finite, Finite]), {
    maxItems: 5000,
    description: 'seconds, turns, grams',
  }),
  formulaVersion: Type.Integer({ minimum: 1, maximum: 1_000_000 }),
  journal: Type.Array(
    Type.Tuple([
      Type.Number({ description: 'host milliseconds since the run began' }),
      Type.Enum(['line', 'sent', 'input']),
      Type.String({ maxLength: 100_000 }),
    ]),
    { maxItems: 5_000_000 },
  ),
});
export type ExportedRun = Static<typeof ExportedRun>;

export const ExportHead = closed({
  format: Type.Literal(formatName),
  version: Type.Integer({ minimum: 1, maximum: exportVersion }),
  exportedAt: Moment,
});

/** The whole file. Each item and each run stands on a line of its own. */
export const ExportFile = closed({
  ...ExportHead.properties,
  items: Type.Array(ExportedItem),
  runs: Type.Array(ExportedRun),
});
export type ExportFile = Static<typeof ExportFile>;
