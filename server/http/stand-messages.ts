import Type, { type Static } from 'typebox';
import { standings } from '../stand/firmware-version.ts';
import { outcomes, stepNames } from '../stand/types.ts';

/** Shapes of the check of a stand: what is asked, what was found, what may be done. SI units with grams, or as each figure says. */

const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const words = <T extends string>(list: readonly T[]) => Type.Enum([...list]);
const closed = { additionalProperties: false } as const;
const Values = Type.Record(Type.String(), Type.Union([Type.String(), Type.Number()]));

const Figure = Type.Object({ name: Type.String(), value: Type.Number(), unit: Type.String() });
export type Figure = Static<typeof Figure>;

const actNames = ['go', 'yes', 'no', 'skip', 'again', 'next', 'settings', 'masses', 'weigh', 'undo'] as const;

/** What came of a step; `remarks` by code with their values, `sentence` the same in English. */
const StepResult = Type.Object({
  step: words(stepNames),
  outcome: words(outcomes),
  figures: Type.Array(Figure),
  remarks: Type.Array(
    Type.Object({ code: Type.String(), values: Values, grave: Type.Boolean(), sentence: Type.String() }),
  ),
});
export type StepResult = Static<typeof StepResult>;

const Mass = Type.Object(
  {
    name: Type.String({ minLength: 1, maxLength: 40 }),
    grams: Type.Number({ minimum: 0.1, maximum: 100_000 }),
    standardDoubt: Type.Number({ minimum: 0, maximum: 1000 }),
  },
  closed,
);
export type Mass = Static<typeof Mass>;

const CheckNow = Type.Object({
  step: words(stepNames),
  steps: Type.Array(words(stepNames)),
  /** `sentence` is what is asked, in English. */
  ask: Type.Object({
    code: Type.String(),
    values: Values,
    acts: Type.Array(words(actNames)),
    sentence: Type.String(),
  }),
  /** Names what is asked; an act carries it back. */
  question: Type.String(),
  /** Milliseconds of the service's clock; an act carries it back, so that a late one is known. */
  sentAt: Type.Optional(Type.Number()),
  live: Type.Array(Figure),
  results: Type.Array(StepResult),
  end: Nullable(words(['finished', 'broken'] as const)),
  passed: Type.Boolean(),
  settings: Type.Record(Type.String(), Type.String()),
  masses: Type.Array(Mass),
  /** Loads weighed so far on the cell in hand, grams. */
  weighed: Type.Array(Type.Number()),
  kept: Nullable(Type.Object({ ok: Type.Boolean(), sentence: Type.String() })),
});
export type CheckNow = Static<typeof CheckNow>;

const KeptCheck = Type.Object({
  id: Type.String(),
  at: Type.String(),
  stand: Type.String(),
  firmware: Type.String(),
  by: Type.String(),
  passed: Type.Boolean(),
  dueAt: Type.String(),
  due: Type.Boolean(),
});
export type KeptCheck = Static<typeof KeptCheck>;

/** The check of the connected stand: the one under way and the newest on record, and how its firmware stands to the shipped one. */
export const StandCheckAnswer = Type.Object({
  check: Nullable(CheckNow),
  newest: Nullable(KeptCheck),
  firmware: Nullable(
    Type.Object({ board: Type.String(), shipped: Type.String(), standing: words(standings) }),
  ),
});
export type StandCheckAnswer = Static<typeof StandCheckAnswer>;

export const CheckActBody = Type.Object(
  {
    do: words(actNames),
    /** What it answers, as the check named it: an answer to what is no longer asked is refused. */
    question: Type.String({ maxLength: 80 }),
    /** When what it answers was sent. Without it the act counts as meant now. */
    sentAt: Type.Optional(Type.Number()),
    /** Of `settings`: key and value as the board takes them. */
    values: Type.Optional(
      Type.Object(
        {
          name: Type.Optional(Type.String({ pattern: '^[A-Za-z0-9_-]{1,16}$' })),
          ppt: Type.Optional(Type.Integer({ minimum: 1, maximum: 2000 })),
          debounce: Type.Optional(Type.Integer({ minimum: 20, maximum: 20_000 })),
          cells: Type.Optional(Type.Integer({ minimum: 1, maximum: 6 })),
          direction: Type.Optional(Type.Integer({ minimum: 0, maximum: 2 })),
          warn: Type.Optional(Type.Integer({ minimum: 0, maximum: 65_535 })),
        },
        closed,
      ),
    ),
    /** Of `masses`: those at hand. */
    masses: Type.Optional(Type.Array(Mass, { maxItems: 20 })),
    /** Of `weigh`: names of those on the cell now. */
    on: Type.Optional(Type.Array(Type.String({ maxLength: 40 }), { maxItems: 20 })),
  },
  closed,
);
export type CheckActBody = Static<typeof CheckActBody>;
