import Type, { type Static } from 'typebox';

/** Shapes of the check before a run: what the stand sees itself, and what only a person can see. */

const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const words = <T extends string>(list: readonly T[]) => Type.Enum([...list]);

export const seenItems = ['link', 'zero', 'scale', 'wheel', 'stop-button'] as const;
export type SeenItem = (typeof seenItems)[number];

/** Asked once a calibration. */
export const askedOnce = [
  'on-stands',
  'chocked',
  'people-clear',
  'drive-engaged',
  'tubes-clear',
  'primed',
  'bag-on',
  'treated-seed',
] as const;
/** Asked again at each further run: all that can have changed. */
export const askedAgain = ['bag-emptied', 'people-clear'] as const;
export const askedItems = [...askedOnce, 'bag-emptied'] as const;
export type AskedItem = (typeof askedItems)[number];

export const BeforeRunView = Type.Object({
  seen: Type.Array(
    Type.Object({
      item: words(seenItems),
      /** 'open': not seen or done yet; 'wrong': seen to be wrong; 'unknown': nothing can be said without a stand. */
      state: words(['good', 'open', 'wrong', 'unknown'] as const),
      /** Age of the link in seconds, turns seen, days since the scale check: what the item goes by. */
      figure: Nullable(Type.Number()),
      /** Moment that the item goes by, ISO 8601. */
      at: Nullable(Type.String()),
    }),
  ),
  /** What a person is asked now. */
  asked: Type.Array(words(askedItems)),
  /** The whole list is to be confirmed before the stand is got ready. Else getting it ready says the few things in `asked`. */
  toConfirm: Type.Boolean(),
  /** When the whole list was confirmed for this calibration. */
  confirmedAt: Nullable(Type.String()),
  /** What of all this could not be put on record and why, in sentences. */
  trouble: Nullable(Type.String()),
});
export type BeforeRunView = Static<typeof BeforeRunView>;

/** Nothing, or that the list is passed over on purpose: then the run's note says so. */
export const ArmBody = Nullable(
  Type.Object({ list: Type.Literal('passed-over') }, { additionalProperties: false }),
);
export type ArmBody = Static<typeof ArmBody>;

export const ConfirmBody = Type.Object(
  { items: Type.Array(words(askedItems), { maxItems: askedItems.length, uniqueItems: true }) },
  { additionalProperties: false },
);
export type ConfirmBody = Static<typeof ConfirmBody>;
