import type { CalibrationView } from '../../server/http/calibration-messages.ts';
import type { NextAct } from '../src/state/next-act.ts';

type Stop = NonNullable<CalibrationView['advice']>['stop'];
type Known = CalibrationView['rounds'][number]['known'];

const inTurns = (turns: number | null): string =>
  turns === null ? '' : `, ${Math.round(turns)} turns in all`;

/** English for the place of the next setting: what a calibration has taught so far and what to do with it. */
export const setting = {
  reading: 'Reading the calibration …',
  of: 'Calibration of',
  heads: {
    'no-advice': 'No advice yet',
    'first-run': 'Make a first run',
    set: 'Next setting',
    done: 'Done: leave it at',
    settle: 'As good as it gets at',
    'out-of-reach': 'The scale does not reach',
  } satisfies Record<NextAct['kind'], string>,
  use: (mark: string) => `Use setting ${mark}`,
  planned: (mark: string) => `The plan says ${mark}. Set the lever to ${mark}, then get ready.`,
  plannedStays: (mark: string) =>
    `The plan says ${mark}. Leave the lever there and get ready for another run.`,
  plannedDone: (mark: string) => `The plan says ${mark}. Nothing more to test.`,
  expected: (rate: string, low: string, high: string) => `expected ${rate} (95 %: ${low} to ${high})`,
  between: (low: string, high: string) => `between ${low} and ${high}`,
  fillIn: 'Fill in the setting scale',
  toPlan: 'Look at the plan',
  toSetting: 'Why, and all runs',
  toSheet: 'The sheet to hand over',
  working: 'Working out what comes next …',

  stop: {
    title: 'Can testing end?',
    none: 'Nothing to judge before the first run.',
    chance: 'Chance that the true rate is right',
    wanted: (share: string) => `wanted ${share} %`,
    at: (mark: string) => `at setting ${mark}`,
    more: (runs: number, turns: number | null) =>
      runs === 1 ? `Probably 1 more run${inTurns(turns)}.` : `Probably ${runs} more runs${inTurns(turns)}.`,
    noMore: 'No number of further runs would give the wanted certainty.',
    limits: {
      noise: 'Runs differ too much from one to the next: more turns a run, or find out why.',
      step: 'The marks of the scale are too far apart for this tolerance.',
      'lever-play': 'The lever does not stand the same each time it is set.',
      rows: 'The rows of the drill differ too much from one another.',
      common: 'Wheel circumference, row spacing or slip are not known well enough.',
    } satisfies Record<NonNullable<Stop['limit']>, string>,
    inTheWay: 'In the way:',
    lucky: 'Why one hit is not enough:',
  },

  curve: {
    title: 'Rate against setting',
    axis: 'Setting',
    label: (runs: number, next: string | null) =>
      `Chart of the rate against the setting, with ${runs === 1 ? '1 run' : `${runs} runs`}${
        next === null ? '' : `; next setting ${next}`
      }. The same figures stand in the tables of runs and of marks.`,
    stand: 'stand',
    hand: 'by hand',
    aside: 'hollow: not in the model',
    line: 'line and its 95 % band',
    band: 'target with tolerance',
    next: 'next setting',
    latest: (rate: string) => `target ${rate}`,
  },

  runs: {
    title: 'Runs of this calibration',
    none: 'None yet. Runs on the stand come here by themselves; one weighed by hand can be typed in below.',
    columns: {
      name: 'Run',
      setting: 'Setting',
      caught: 'Caught',
      rate: 'Rate',
      source: 'Weighed',
      model: 'In the model',
      act: '',
    },
    names: (name: string) => name.replace(/^run /, 'Run '),
    sources: { stand: 'on the stand', hand: 'by hand' } satisfies Record<'stand' | 'hand', string>,
    counts: 'yes',
    setAside: 'Set aside',
    setAsideOf: (name: string) => `Set aside: ${name}`,
    bringBack: 'Bring back',
    bringBackOf: (name: string) => `Bring back: ${name}`,
    ask: (name: string) => `Why set ${name} aside? It stays on record and can be brought back.`,
    reasons: [
      'the bag touched something',
      'seed was spilled',
      'the turns were miscounted',
      'the lever did not stand where it was noted',
      'the hopper ran low',
    ],
    other: 'Or in your own words',
    whyMissing: 'Choose a reason, or write one.',
    keep: 'Keep it in',
  },

  hand: {
    title: 'Weighed by hand',
    intro: 'A catch from a bag or bucket on any scale counts too, with its larger doubt.',
    fields: {
      setting: 'Setting',
      turns: 'Turns',
      grams: 'Catch',
      scaleStep: 'Step of the scale',
    },
    stepHelp: 'The smallest step that its display shows.',
    byEye: 'Turns counted by eye',
    byEyeHelp: 'So that one may have been missed.',
    add: 'Add this run',
    added: 'Added.',
  },

  rows: {
    title: 'Do the rows agree?',
    intro:
      'What some rows give stands for the drill only as far as its rows agree. Catch several, over as many turns each, and type them in.',
    fields: { turns: 'Turns', catches: 'Catch of each row, in order', scaleStep: 'Step of the scale' },
    catchesHelp: 'With spaces between: 85.2 88 84.6',
    together: 'All caught in the same turns',
    compare: 'Compare',
    doubt: (share: string) =>
      `Counted in: the rows caught may be ${share} % off the drill’s mean (one standard uncertainty).`,
  },

  marks: {
    title: 'Setting chart',
    none: 'Comes with the first run.',
    columns: { setting: 'Mark', rate: 'Rate', interval: '95 %', known: 'Known how' },
    words: {
      measured: 'measured',
      inferred: 'inferred',
      'out of range': 'out of range',
    } satisfies Record<Known, string>,
    target: 'nearest to the target',
    all: (count: number) => `All ${count} marks`,
    rounds: 'Which setting for which rate',
    roundColumns: { rate: 'Rate', setting: 'Mark', interval: '95 %', known: 'Known how' },
    noMark: 'not on this scale',
  },

  lid: {
    title: 'Chart on the drill’s lid',
    intro:
      'Two or three rows of the printed chart, about the wanted rate, give a first setting before any run.',
    setting: 'Setting',
    rate: 'Rate',
    row: (index: number) => `row ${index}`,
    density: 'Bulk density of the seed it was made with',
    densityHelp: 'May stay empty.',
    another: 'Another row',
    keep: 'Keep these rows',
    kept: 'Kept.',
  },

  how: { title: 'How this was found', interval: (low: string, high: string) => `95 %: ${low} to ${high}` },
  units: {
    'g/m² per mark': (rate: string) => `${rate} per mark`,
    mark: (value: string) => `mark ${value}`,
    runs: (count: number) => (count === 1 ? '1 run' : `${count} runs`),
    turns: (count: string) => `${count} turns`,
  },
  findings: 'Worth knowing',
  past: (names: string) => `Starts from: ${names}.`,

  anew: {
    start: 'Start anew',
    ask: 'End this calibration? Its runs stay on record; the next run begins another one.',
    yes: 'Yes, start anew',
    no: 'Go on with this one',
  },
};
