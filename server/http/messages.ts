import Type, { type Static } from 'typebox';
import { targetUnits } from '../domain/target-units.ts';
import { findingKinds } from '../domain/trace/finding.ts';
import { budgetParts } from '../domain/uncertainty.ts';
import { verdictKinds } from '../domain/verdict.ts';
import { endReasons } from '../link/readings.ts';
import { gapCauses, runOutcomes, runPhases } from '../run/types.ts';

/** Every shape that crosses HTTP or the socket, declared once: it types both ends and checks what comes in. SI units throughout. */

const Fraction = (maximum: number) => Type.Number({ minimum: 0, maximum });
const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const words = <T extends string>(list: readonly T[]) => Type.Enum([...list]);

/** The drill's own setting scale, in one gear, gate or notch. */
const SettingScale = Type.Object(
  {
    low: Type.Number({ minimum: 0, maximum: 10_000 }),
    high: Type.Number({ minimum: 0, maximum: 10_000 }),
    /** Distance between the marks that can be set. */
    step: Type.Number({ exclusiveMinimum: 0, maximum: 1000 }),
    /** Mark at which the meter should be closed. */
    closedAt: Type.Number({ minimum: -10_000, maximum: 10_000 }),
    /** Standard spread of where the lever really stands, in marks. */
    leverPlay: Type.Number({ minimum: 0, maximum: 1000 }),
    configuration: Type.String({ maxLength: 80 }),
    otherConfigurations: Type.Array(Type.String({ minLength: 1, maxLength: 80 }), { maxItems: 20 }),
    /** What is written at the marks where that is no number, from the lowest on: then `low` and `step` are 1. */
    marks: Type.Optional(Type.Array(Type.String({ minLength: 1, maxLength: 20 }), { maxItems: 60 })),
  },
  { additionalProperties: false },
);

/** Openers in staggered ranks: what the row spacing came from. */
const RowSpacingFrom = Type.Object(
  {
    withinRankMetres: Type.Number({ exclusiveMinimum: 0, maximum: 30 }),
    ranks: Type.Integer({ minimum: 1, maximum: 10 }),
  },
  { additionalProperties: false },
);

/** What the circumference came from: readings of a tape, ways rolled over `turns`, or turns counted over `distanceMetres`. */
const CircumferenceFrom = Type.Object(
  {
    way: words(['tape', 'roll-out', 'field'] as const),
    readings: Type.Array(Type.Number({ exclusiveMinimum: 0, maximum: 10_000 }), { maxItems: 20 }),
    turns: Nullable(Type.Number({ exclusiveMinimum: 0, maximum: 10_000 })),
    distanceMetres: Nullable(Type.Number({ exclusiveMinimum: 0, maximum: 10_000 })),
  },
  { additionalProperties: false },
);

/** One species of what is sown. Shares are fractions. */
export const SeedPart = Type.Object(
  {
    name: Type.String({ minLength: 1, maxLength: 80 }),
    /** Its key in the table of species; empty where it stands in none. */
    species: Type.String({ maxLength: 80 }),
    share: Type.Number({ exclusiveMinimum: 0, maximum: 1 }),
    /** Where shares are of a full stand: the rate of pure live seed at which it is sown alone. */
    fullRateGramsPerSquareMetre: Nullable(Type.Number({ exclusiveMinimum: 0, maximum: 500 })),
    thousandSeedWeightGrams: Type.Number({ minimum: 0.01, maximum: 5000 }),
    /** Portions of counted seeds, where the thousand-seed weight came from the bench. */
    counted: Nullable(
      Type.Object(
        {
          weightsGrams: Type.Array(Type.Number({ exclusiveMinimum: 0, maximum: 10_000 }), {
            minItems: 2,
            maxItems: 24,
          }),
          seedsEach: Type.Integer({ minimum: 1, maximum: 100_000 }),
        },
        { additionalProperties: false },
      ),
    ),
    purity: Type.Number({ exclusiveMinimum: 0, maximum: 1 }),
    germination: Fraction(1),
    hard: Fraction(1),
    dormant: Fraction(1),
    bulkDensityKilogramsPerCubicMetre: Nullable(Type.Number({ minimum: 20, maximum: 1500 })),
  },
  { additionalProperties: false },
);
export type SeedPart = Static<typeof SeedPart>;

/** The plan for the next run: the drill's figures, the seed, the target, how many turns. Ranges are what a drill can be, with room. */
export const Plan = Type.Object(
  {
    drill: Type.Object(
      {
        name: Type.String({ minLength: 1, maxLength: 80 }),
        setting: Type.String({ maxLength: 40 }),
        rowSpacingMetres: Type.Number({ minimum: 0.02, maximum: 3 }),
        rowSpacingDoubtMetres: Type.Number({ minimum: 0, maximum: 0.5 }),
        circumferenceMetres: Type.Number({ minimum: 0.2, maximum: 15 }),
        circumferenceDoubtMetres: Type.Number({ minimum: 0, maximum: 2 }),
        slip: Fraction(0.5),
        slipDoubt: Fraction(0.3),
        /** Rows of the whole drill, where someone has counted them. */
        rowCount: Type.Optional(Nullable(Type.Integer({ minimum: 1, maximum: 400 }))),
        /** Without it there is no advice on settings. */
        scale: Type.Optional(Nullable(SettingScale)),
        /** Turns of the shaft that carries the sensor for one turn of the drive wheel; 1 where it is left out. */
        shaftRatio: Type.Optional(Nullable(Type.Number({ minimum: 0.01, maximum: 100 }))),
        rowSpacingFrom: Type.Optional(Nullable(RowSpacingFrom)),
        circumferenceFrom: Type.Optional(Nullable(CircumferenceFrom)),
      },
      { additionalProperties: false },
    ),
    rowsCaught: Type.Integer({ minimum: 1, maximum: 200 }),
    seed: Type.Object(
      {
        name: Type.String({ minLength: 1, maxLength: 80 }),
        seedMassGrams: Type.Number({ minimum: 0.00001, maximum: 5 }),
        repeatability: Fraction(0.5),
        bulkDensityKilogramsPerCubicMetre: Type.Optional(
          Nullable(Type.Number({ minimum: 50, maximum: 2000 })),
        ),
        /** What the shares of `parts` are shares of. */
        basis: Type.Optional(words(['mass', 'live-seeds', 'full-stand'] as const)),
        /** What the seed is made of, where somebody told; `seedMassGrams` then follows from it. */
        parts: Type.Optional(Type.Array(SeedPart, { minItems: 1, maxItems: 12 })),
      },
      { additionalProperties: false },
    ),
    target: Type.Object(
      {
        gramsPerSquareMetre: Type.Number({ minimum: 0.005, maximum: 200 }),
        tolerance: Type.Number({ minimum: 0.001, maximum: 0.5 }),
        /** Probability with which the true rate shall be right before testing ends; 0.9 where it is left out. */
        confidence: Type.Optional(Type.Number({ minimum: 0.5, maximum: 0.999 })),
        /** The target as it was stated, where that is not a rate by mass; `gramsPerSquareMetre` is what it comes to. */
        stated: Type.Optional(
          Nullable(
            Type.Object(
              {
                figure: Type.Number({ exclusiveMinimum: 0, maximum: 1e9 }),
                unit: words(targetUnits),
                /** Share of the live seeds that become plants. */
                establishment: Type.Number({ exclusiveMinimum: 0, maximum: 1 }),
              },
              { additionalProperties: false },
            ),
          ),
        ),
      },
      { additionalProperties: false },
    ),
    turns: Type.Number({ minimum: 0.5, maximum: 2000 }),
    mode: words(['motor', 'hand'] as const),
    plannedSpeedMetresPerSecond: Nullable(Type.Number({ minimum: 0.1, maximum: 10 })),
  },
  { additionalProperties: false, $id: 'Plan' },
);
export type Plan = Static<typeof Plan>;

export const linkConditions = [
  'searching', // no port chosen or none found yet
  'opening',
  'asking', // open, waiting for the board to say who it is
  'connected',
  'silent', // open, but nothing has come for half a second
  'lost', // closed; trying again
  'wrong-device',
  'wrong-version',
] as const;

export const LinkView = Type.Object({
  condition: words(linkConditions),
  path: Nullable(Type.String()),
  /** What it means and what to do. */
  sentence: Type.String(),
  /** Milliseconds since the board was last heard, or null. */
  ageMillis: Nullable(Type.Number()),
  board: Nullable(
    Type.Object({
      name: Type.String(),
      firmware: Type.String(),
      boot: Type.Integer(),
      reset: Type.String(),
      cells: Type.Integer(),
      pulsesPerTurn: Type.Integer(),
      settings: Type.String(),
    }),
  ),
});
export type LinkView = Static<typeof LinkView>;

const Rate = Type.Object({
  gramsPerSquareMetre: Type.Number(),
  standardDoubt: Type.Number(),
  low: Type.Number(),
  high: Type.Number(),
});

const Instant = Type.Object({ turns: Type.Number(), seconds: Type.Number() });

const EvidenceSeries = Type.Object({
  role: words(['seen', 'expected', 'limit'] as const),
  x: Type.Array(Type.Number()),
  y: Type.Array(Type.Number()),
});

/** Something that the trace of a run shows to be wrong or worth knowing; instants count from the wheel's start. */
export const Finding = Type.Object({
  kind: words(findingKinds),
  /** Bag or load cell, from 0; null where it concerns the whole. */
  cell: Nullable(Type.Integer()),
  from: Instant,
  /** Null while it goes on. */
  until: Nullable(Instant),
  /** Probability that it is no chance, 0.5 to 1. */
  sure: Type.Number(),
  /** Whether the run's rate is not to be trusted with it. */
  spoils: Type.Boolean(),
  /** Data for a small picture. */
  evidence: Type.Object({
    x: words(['turns', 'seconds', 'cycles-per-turn', 'pulse-in-turn'] as const),
    y: words([
      'turns',
      'grams',
      'grams-per-turn',
      'grams-per-second',
      'share-of-usual',
      'milliseconds',
      'strength',
    ] as const),
    series: Type.Array(EvidenceSeries),
  }),
  sentence: Type.String(),
});

/** The run at its preset turns, as far as it has shown; 95 % intervals from seeds and weighing alone. */
const Forecast = Type.Object({
  turns: Type.Number(),
  grams: Type.Number(),
  gramsLow: Type.Number(),
  gramsHigh: Type.Number(),
  gramsPerSquareMetre: Type.Number(),
  low: Type.Number(),
  high: Type.Number(),
});

/** An offer to stop early, or none; nothing acts on it by itself. */
const Verdict = Type.Object({
  kind: words(verdictKinds),
  /** Probability that the run will end inside the tolerance. */
  chanceInside: Type.Number(),
  /** Wanted rate over the forecast one. */
  factor: Type.Number(),
  sentence: Type.String(),
});

const Speed = Type.Object({
  lowTurnsPerMinute: Type.Number(),
  highTurnsPerMinute: Type.Number(),
  now: Nullable(words(['slow', 'on-plan', 'fast'] as const)),
  /** Share of the turns so far, 0 to 1. */
  shareOnPlan: Nullable(Type.Number()),
});

/** A time without readings; instants count from the wheel's start. Turns and grams count on through it. */
const Gap = Type.Object({
  cause: words(gapCauses),
  fromSeconds: Type.Number(),
  /** Null while it lasts. */
  toSeconds: Nullable(Type.Number()),
  fromTurns: Type.Number(),
  toTurns: Nullable(Type.Number()),
});

export const Figures = Type.Object({
  phase: words(runPhases),
  outcome: Nullable(words(runOutcomes)),
  boardWhy: words(endReasons),
  turnsPreset: Type.Number(),
  turnsDone: Type.Number(),
  turnsToGo: Type.Number(),
  backwardTurns: Type.Number(),
  seconds: Type.Number(),
  grams: Nullable(Type.Number()),
  gramsDoubt: Nullable(Type.Number()),
  targetCatchGrams: Type.Number(),
  targetCatchLowGrams: Type.Number(),
  targetCatchHighGrams: Type.Number(),
  rate: Nullable(Rate),
  budget: Type.Array(
    Type.Object({ part: words(budgetParts), relative: Type.Number(), common: Type.Boolean() }),
  ),
  turnsPerMinute: Nullable(Type.Number()),
  groundSpeedMetresPerSecond: Nullable(Type.Number()),
  // Runs on record from earlier editions of the formulas have none of these four.
  speed: Type.Optional(Nullable(Speed)),
  forecast: Type.Optional(Nullable(Forecast)),
  verdict: Type.Optional(Nullable(Verdict)),
  findings: Type.Optional(Type.Array(Finding)),
  motorOn: Type.Boolean(),
  lostReadings: Type.Integer(),
  gaps: Type.Optional(Type.Array(Gap)),
  sentence: Type.String(),
});
export type Figures = Static<typeof Figures>;

/** [seconds, turns, grams] */
export const TracePoints = Type.Array(Type.Tuple([Type.Number(), Type.Number(), Type.Number()]));

export const RunSummary = Type.Object({
  id: Type.String(),
  startedAt: Type.String({ description: 'ISO 8601, UTC' }),
  endedAt: Nullable(Type.String()),
  demo: Type.Boolean(),
  plan: Plan,
  figures: Nullable(Figures),
});
export type RunSummary = Static<typeof RunSummary>;

/** The run in hand, or the last one; `id` is null when there has been none since the server started. */
export const RunView = Type.Object({
  id: Nullable(Type.String()),
  plan: Plan,
  figures: Figures,
});
export type RunView = Static<typeof RunView>;

/** Milliseconds of the service's clock when the message was sent; a start carries it back, so that a late one is known. */
const SentAt = Type.Optional(Type.Number());

/** What a start may carry: which run the page shows, and when what it shows was sent. Without it the start counts as meant now. */
export const StartBody = Nullable(
  Type.Object(
    { run: Type.String({ maxLength: 80 }), sentAt: Type.Number() },
    { additionalProperties: false },
  ),
);
export type StartBody = Static<typeof StartBody>;

/**
 * First message on the socket: everything there is to show. A changed `startId` means the server restarted. It may come again later, to a
 * viewer that was too slow for every message between: it replaces all that was known.
 */
export const HelloMessage = Type.Object({
  type: Type.Literal('hello'),
  startId: Type.String(),
  version: Type.String(),
  demo: Type.Boolean(),
  link: LinkView,
  plan: Plan,
  run: RunView,
  /** The run's chart so far, thinned to at most 1200 points. */
  trace: TracePoints,
  sentAt: SentAt,
});

/** Up to 20 times a second while something changes, and once a second otherwise. */
export const LiveMessage = Type.Object({
  type: Type.Literal('live'),
  link: LinkView,
  run: RunView,
  /** Chart points since the message before. */
  trace: TracePoints,
  sentAt: SentAt,
});

/** The plan for the next run was changed, here or on another page. */
export const PlanMessage = Type.Object({ type: Type.Literal('plan'), plan: Plan });

/** A new run began: throw the old chart away. */
export const BeginMessage = Type.Object({ type: Type.Literal('begin'), run: RunView });

/** The calibration in hand changed: ask for it anew. */
export const CalibrationMessage = Type.Object({ type: Type.Literal('calibration') });

/** Who is here or who holds the wheel has changed: ask for it anew. */
export const PeopleMessage = Type.Object({ type: Type.Literal('people') });

/** All that was on record has been replaced; a hello with what is now came just before. Ask for everything else anew. */
export const RestoredMessage = Type.Object({ type: Type.Literal('restored') });

export const SocketMessage = Type.Union([
  RestoredMessage,
  HelloMessage,
  LiveMessage,
  PlanMessage,
  BeginMessage,
  CalibrationMessage,
  PeopleMessage,
]);
export type SocketMessage = Static<typeof SocketMessage>;

/** What `GET /api/state` answers: all that a hello says. */
export const StateAnswer = Type.Omit(HelloMessage, ['type']);
export type StateAnswer = Static<typeof StateAnswer>;

export const PortsAnswer = Type.Object({
  ports: Type.Array(
    Type.Object({
      path: Type.String(),
      /** Words for a person; may be empty. */
      label: Type.String(),
    }),
  ),
});
export type PortsAnswer = Static<typeof PortsAnswer>;

/** The port to use from now on; null looks for a stand on all ports. */
export const LinkChoice = Type.Object(
  { path: Nullable(Type.String({ minLength: 1, maxLength: 255, pattern: '^[^\\u0000-\\u001f\\u007f]+$' })) },
  { additionalProperties: false },
);
export type LinkChoice = Static<typeof LinkChoice>;

/** A page of the runs on record, newest first. */
export const RunsAnswer = Type.Object({
  runs: Type.Array(RunSummary),
  /** Give it as `before` for the page after this one; null on the last. */
  next: Nullable(Type.String()),
});
export type RunsAnswer = Static<typeof RunsAnswer>;

const Stand = Type.Object({
  name: Type.String(),
  firmware: Type.String(),
  boot: Type.Integer(),
  /** Of the drive wheel. */
  pulsesPerTurn: Type.Number(),
  cells: Type.Array(Type.Object({ gramsPerCount: Type.Number(), zeroCount: Type.Number() })),
});

/** One run on record, with its chart of at most 1200 points. */
export const RunDetail = Type.Object({
  ...RunSummary.properties,
  stand: Stand,
  /** Which edition of the formulas gave the figures; null while the run has none. */
  formulaVersion: Nullable(Type.Integer()),
  trace: TracePoints,
});
export type RunDetail = Static<typeof RunDetail>;

/** What a run was computed from, in order: the board's own lines, what was sent to it, and the run's other inputs as JSON. */
export const ReadingsAnswer = Type.Object({
  entries: Type.Array(
    Type.Object({
      position: Type.Integer(),
      /** Host milliseconds since the run began. */
      hostMillis: Type.Number(),
      kind: words(['line', 'sent', 'input'] as const),
      text: Type.String(),
    }),
  ),
  /** Give it as `from` for the page after this one; null on the last. */
  next: Nullable(Type.Integer()),
});
export type ReadingsAnswer = Static<typeof ReadingsAnswer>;

/** How the records are, on this computer and where they are shared. */
const StoreHealth = Type.Object({
  folder: Type.String(),
  unsavedRuns: Type.Integer({
    description: 'runs that are over and in memory alone: see /api/export/unsaved',
  }),
  trouble: Nullable(Type.String({ description: 'what keeps the records from the disk' })),
});
const ShareHealth = Type.Object({
  condition: words(['starting', 'in touch', 'out of touch', 'refused'] as const),
  waiting: Type.Integer({ description: 'things that the other stands have not got yet' }),
  lastSuccessAt: Nullable(Type.String({ description: 'ISO 8601, UTC' })),
  sentence: Type.String(),
});
export type ShareHealth = Static<typeof ShareHealth>;

/** Whether all is well with the service itself; `reasons` says in sentences why not. */
export const HealthAnswer = Type.Object({
  status: words(['ok', 'attention'] as const),
  reasons: Type.Array(Type.String()),
  version: Type.String(),
  startId: Type.String(),
  upSeconds: Type.Number(),
  /** Longest and mean time that the service kept its own clock waiting since the last look, milliseconds. */
  loopDelayMillis: Type.Object({ worst: Type.Number(), mean: Type.Number() }),
  viewers: Type.Integer(),
  store: StoreHealth,
  /** Null where nothing is shared. */
  share: Nullable(ShareHealth),
});
export type HealthAnswer = Static<typeof HealthAnswer>;

/** Every refusal: `code` for programs, `message` a sentence for people, `field` the JSON pointer of the input at fault. */
export const Problem = Type.Object(
  {
    code: Type.String(),
    message: Type.String(),
    field: Type.Optional(Type.String()),
  },
  { $id: 'Problem' },
);
export type Problem = Static<typeof Problem>;
