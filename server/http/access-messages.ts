import Type, { type Static } from 'typebox';
import { roles } from '../access/roles.ts';

/** What crosses HTTP about who may come in. */

const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
export const RoleWord = Type.Enum([...roles]);

export const PersonView = Type.Object({
  /** Session number; `host` is the computer at the stand itself. */
  id: Type.String(),
  /** What the device was called when it was paired; empty for the host. */
  name: Type.String(),
  role: RoleWord,
});
export type PersonView = Static<typeof PersonView>;

/** Answer to anyone: whether pairing is needed, and who one is. */
export const MeAnswer = Type.Object({
  shared: Type.Boolean({ description: 'whether others on the shop network may come in' }),
  you: Nullable(PersonView),
});
export type MeAnswer = Static<typeof MeAnswer>;

/** Who is here and who holds the wheel, as the one who asks sees it. */
export const HereAnswer = Type.Object({
  shared: Type.Boolean(),
  you: PersonView,
  people: Type.Array(Type.Object({ ...PersonView.properties, pages: Type.Integer() })),
  wheel: Type.Object({
    holder: Nullable(Type.String()),
    /** Session numbers of those who ask for it, oldest question first. */
    asking: Type.Array(Type.String()),
    /** Milliseconds until you may take it without a yes; null where asking comes first. */
    takeInMillis: Nullable(Type.Number()),
  }),
});
export type HereAnswer = Static<typeof HereAnswer>;

export const PairBody = Type.Object(
  { code: Type.String({ maxLength: 20 }), name: Type.String({ maxLength: 80 }) },
  { additionalProperties: false },
);
export type PairBody = Static<typeof PairBody>;
export const CodeBody = Type.Object({ role: RoleWord }, { additionalProperties: false });
export type CodeBody = Static<typeof CodeBody>;
export const GiveBody = Type.Object({ to: Type.String({ maxLength: 40 }) }, { additionalProperties: false });
export type GiveBody = Static<typeof GiveBody>;

export const CodeAnswer = Type.Object({
  code: Type.String(),
  role: RoleWord,
  millisLeft: Type.Number(),
});
export type CodeAnswer = Static<typeof CodeAnswer>;

export const SessionsAnswer = Type.Object({
  sessions: Type.Array(
    Type.Object({
      ...PersonView.properties,
      from: Type.String(),
      pairedAt: Type.String(),
      seenAt: Type.String(),
      /** When it ends by itself. */
      until: Type.String(),
    }),
  ),
});
export type SessionsAnswer = Static<typeof SessionsAnswer>;

export const AuditAnswer = Type.Object({
  /** Newest first. */
  entries: Type.Array(
    Type.Object({
      at: Type.String(),
      by: Type.String(),
      name: Type.String(),
      role: Nullable(RoleWord),
      from: Type.String(),
      act: Type.String(),
      outcome: Type.String(),
    }),
  ),
});
export type AuditAnswer = Static<typeof AuditAnswer>;
