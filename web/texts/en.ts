import type { LinkView, Plan } from '../../server/http/messages.ts';
import type { BudgetPart, RunOutcome, RunPhase } from '../../server/run/types.ts';
import type { Act, Hint } from '../src/state/acts.ts';
import type { FieldId } from '../src/state/fields.ts';
import type { Verdict } from '../src/state/verdict.ts';

/** Everything the page says in English. Another language is another file of this shape. */

const phases: Record<RunPhase, string> = {
  idle: 'Standing by',
  taring: 'Taring',
  ready: 'Ready',
  turning: 'Turning',
  settling: 'Settling',
  finished: 'Finished',
};

const outcomes: Record<RunOutcome, string> = {
  complete: 'Done',
  stopped: 'Stopped',
  'stop-button': 'Stop button',
  'host-silent': 'Stopped by the board',
  reversed: 'Ran backwards',
  stalled: 'Wheel stalled',
  expired: 'Not started in time',
  refused: 'Refused',
  'link-lost': 'Stand lost',
  'board-reset': 'Board restarted',
  aborted: 'Thrown away',
  interrupted: 'Interrupted',
};

const conditions: Record<LinkView['condition'], string> = {
  searching: 'No stand',
  opening: 'Opening',
  asking: 'Asking who is there',
  connected: 'Stand connected',
  silent: 'Stand silent',
  lost: 'Stand lost',
  'wrong-device': 'Not a stand',
  'wrong-version': 'Wrong version',
};

const parts: Record<BudgetPart['part'], string> = {
  weighing: 'Weighing',
  scale: 'The scale itself',
  turns: 'Counting turns',
  circumference: 'Wheel circumference',
  'row-spacing': 'Row spacing',
  slip: 'Wheel slip',
  'seed-sampling': 'Seeds come in lumps',
  repeatability: 'One run to the next',
};

const acts: Record<Act, string> = {
  arm: 'Get ready',
  start: 'Start',
  stop: 'Stop',
  abort: 'Throw away',
};

const hints: Record<Hint, string> = {
  'no-page': 'No word from Catchbench. If anything turns, use the stop button wired to the stand.',
  connect: 'Next: connect the stand.',
  'save-plan': 'Next: save the plan. It has changes that a run would not use yet.',
  arm: 'Next: hang the empty bag, then get ready. The stand tares itself.',
  'arm-again': 'Next: empty the bag, change the setting if need be, then get ready again.',
  taring: 'Wait: taring. Leave the bag alone.',
  'start-motor': 'Next: everyone clear of the wheel? Then start.',
  'start-hand': 'Next: start, then turn the wheel.',
  'turning-motor': 'The stand stops by itself at the count.',
  'turning-hand': 'Keep turning evenly. The lamp blinks before the last turn and stays on at the end.',
  'no-stand': 'The stand does not answer. If the wheel turns, use the stop button wired to it.',
  settling: 'Wait: the last seed falls and the bag comes to rest. Leave it alone.',
};

const fields: Record<FieldId, { label: string; help: string }> = {
  drillName: { label: 'Drill', help: 'As you call it.' },
  setting: { label: 'Setting', help: 'As the drill’s own scale says it, with gear or gate.' },
  rowSpacing: {
    label: 'Row spacing',
    help: 'From one row to the next. Staggered ranks: spacing within a rank divided by the ranks.',
  },
  circumference: {
    label: 'Wheel circumference',
    help: 'Ground covered by one turn. Best rolled out over several turns with the tyre loaded.',
  },
  rowsCaught: { label: 'Rows caught', help: 'Rows whose seed falls into the bag.' },
  slip: { label: 'Wheel slip', help: 'Share of the ground travel that the wheel does not roll.' },
  seedName: { label: 'Seed or mix', help: 'As on the bag.' },
  thousandSeedWeight: {
    label: 'Thousand-seed weight',
    help: 'For a mix the mean of its seeds’ weights, each counted by its share of the mass.',
  },
  repeatability: {
    label: 'Run-to-run spread',
    help: 'How much runs at one setting differ. 1 % is usual for a clean drill.',
  },
  targetRate: { label: 'Wanted rate', help: 'Seed as it comes from the bag.' },
  tolerance: { label: 'Tolerance', help: 'This much above or below still counts as right.' },
  turns: { label: 'Turns', help: 'Drive-wheel turns of one run.' },
  mode: { label: 'Turned by', help: '' },
  plannedSpeed: { label: 'Field speed', help: 'Leave empty if it does not matter.' },
  rowSpacingDoubt: {
    label: 'Doubt of the row spacing',
    help: 'One standard uncertainty: true within this in two of three cases.',
  },
  circumferenceDoubt: { label: 'Doubt of the circumference', help: 'One standard uncertainty.' },
  slipDoubt: { label: 'Doubt of the slip', help: 'One standard uncertainty, in percentage points.' },
};

const verdicts: Record<Verdict, string> = {
  right: 'The setting is right: the whole 95 % interval lies within the tolerance.',
  high: 'Too much seed: set the drill to give less.',
  low: 'Too little seed: set the drill to give more.',
  open: 'Too close to call: the doubt reaches across the edge of the tolerance. More turns or another run would tell.',
};

const verdictWords: Record<Verdict, string> = {
  right: 'Within tolerance',
  high: 'Too much',
  low: 'Too little',
  open: 'Undecided',
};

export const en = {
  language: 'en',
  name: 'Catchbench',
  places: { run: 'Run', plan: 'Plan', stand: 'Stand', runs: 'Runs' },
  skip: 'Skip to the run',
  phases,
  outcomes,
  conditions,
  acts,
  hints,
  verdicts,
  verdictWords,

  demo: 'Demo',
  demoNote: 'An imagined stand and drill: nothing real turns.',
  live: {
    stopKeys: 'Esc or space',
    catch: 'Catch',
    targetCatch: 'Target catch',
    grams: 'g',
    target: (grams: string) => `target ${grams} g`,
    right: (low: string, high: string) => `right from ${low} to ${high} g`,
    turns: 'Turns',
    ofTurns: (preset: string) => `of ${preset}`,
    toGo: 'to go',
    allTurned: 'All turned',
    backward: (turns: string) => `${turns} turns ran backwards`,
    rate: 'Rate',
    interval: (low: string, high: string) => `95 %: ${low} to ${high}`,
    noRate: 'Comes with the first turns',
    rateBand: (low: string, high: string, unit: string) => `wanted ${low} to ${high} ${unit}`,
    speed: 'Wheel speed',
    perMinute: 'turns a minute',
    stands: (speed: string) => `stands for ${speed}`,
    planned: (speed: string) => `planned ${speed}`,
    chart: 'Catch against turns',
    chartNow: (grams: string, turns: string) =>
      `Line chart of the catch against turns. Latest: ${grams} g at ${turns} turns.`,
    chartEmpty: 'Line chart of the catch against turns. Nothing caught yet.',
    chartBand: 'within tolerance',
    gramsAxis: 'Grams',
    motorOn: 'Motor on',
    motorOff: 'Motor off',
    lost: (count: number) =>
      count === 1
        ? '1 reading was lost; the totals make good for it.'
        : `${count} readings were lost; the totals make good for them.`,
    none: '–',
  },
  age: {
    never: 'not heard yet',
    heard: (ago: string) => `last heard ${ago} ago`,
    seconds: (seconds: number) => `${seconds} s`,
    minutes: (minutes: number) => `${minutes} min`,
  },
  socket: {
    connecting: 'Reaching Catchbench …',
    lostWord: 'No connection',
    lost: 'This page does not reach Catchbench: its program may have ended, or the network is out.',
    lostTurning:
      'This page does not reach Catchbench, and the wheel may be turning. To stop it use the stop button wired to the stand.',
    notSetUp: 'Stand not set up',
    waiting: (seconds: number) => (seconds > 0 ? `Next try in ${seconds} s.` : 'Trying …'),
    tryNow: 'Try now',
    old: (age: string) => `Old figures: ${age}.`,
  },
  throwAway: {
    ask: 'Throw this run away? It stays on record, marked so.',
    yes: 'Yes, throw away',
    no: 'Keep',
  },
  caution: {
    title: 'Before the wheel turns',
    motor: [
      'Drill on stands, other wheels chocked, power and drive line secured.',
      'Nobody near the wheel, chains or metering shafts; loose clothing away.',
      'The stop button wired to the stand is the safety device. This page is not: a page can hang.',
    ],
    hand: ['Drill on stands, other wheels chocked.', 'Fingers clear of chains, gears and metering shafts.'],
    more: 'Follow the drill’s manual and the rules of your workplace. Treated seed: gloves and mask.',
  },
  result: {
    title: (setting: string) => (setting === '' ? 'Result' : `Result at setting ${setting}`),
    doubt: 'Where the doubt comes from',
    doubtIntro:
      'What each part alone would leave unsure, as a share of the rate (one standard uncertainty). The largest is where care pays.',
    common: 'same in every run on this drill',
    largest: 'largest',
    parts,
    percent: (share: string) => `${share} %`,
    caught: (grams: string, turns: string) => `${grams} g in ${turns} turns`,
  },
  strip: {
    title: 'Plan',
    next: 'Next run',
    now: 'This run',
    was: 'This run’s plan',
    setting: (setting: string) => `setting ${setting}`,
    noSetting: 'no setting noted',
    turns: (turns: string, mode: Plan['mode']) =>
      `${turns} turns ${mode === 'motor' ? 'by motor' : 'by hand'}`,
    target: (rate: string, tolerance: string) => `${rate} ± ${tolerance} %`,
    change: 'Change the plan',
  },
  form: {
    title: 'Plan for the next run',
    groups: {
      drill: 'Drill',
      seed: 'Seed',
      target: 'Target',
      run: 'The run',
      doubts: 'Doubts, for those who know them',
    },
    doubtsIntro:
      'How far off each figure may be. They widen the interval of the rate; they never change the rate itself.',
    fields,
    modes: { motor: 'Motor', hand: 'Hand' },
    gives: 'This gives',
    area: 'Ground covered',
    targetCatch: 'Target catch',
    rightFrom: (low: string, high: string) => `right from ${low} to ${high} g`,
    cannotGive: 'Fill in the fields marked above to see the target catch.',
    save: 'Save the plan',
    saved: 'Saved.',
    unchanged: 'No changes to save.',
    discard: 'Drop my changes',
    changedElsewhere:
      'The plan was changed on another page meanwhile. Fields you touched keep what you typed.',
    toRun: 'To the run',
    errors: {
      empty: (label: string) => `${label} is missing.`,
      tooLong: (label: string, most: number) => `${label} is too long: at most ${most} characters.`,
      nonsense: (typed: string, example: string) => `“${typed}” is no number. Write for example ${example}.`,
      unit: (unit: string, example: string) =>
        `“${unit}” is no unit for this field. Write for example ${example}.`,
      twoReadings: (one: string, other: string) =>
        `This can mean ${one} or ${other}. Write it without the comma.`,
      range: (label: string, low: string, high: string) => `${label} must be from ${low} to ${high}.`,
      whole: (label: string) => `${label} must be a whole number.`,
    },
  },
  stand: {
    title: 'Stand',
    port: 'Port',
    noPort: 'none chosen',
    find: 'Find the stand by itself',
    condition: 'Condition',
    board: 'Board',
    firmware: 'Firmware',
    cells: 'Load cells',
    pulses: 'Pulses a turn',
    settings: 'Its settings',
    settingsWords: {
      ok: 'in order',
      blank: 'blank: the stand must be set up before it can run',
      corrupt: 'damaged: the stand must be set up again before it can run',
    } as Record<string, string>,
    boots: 'Restarts so far',
    choose: 'Choose a port',
    found: 'Ports found',
    noneFound: 'No port found. Is the cable in?',
    use: 'Use this port',
    inUse: 'in use',
    look: 'Look again',
    typePath: 'Or type its path',
    pathHelp: 'For example /dev/ttyUSB0 or COM3.',
    connect: 'Connect',
    pathMissing: 'Write the path of the port first.',
  },
  runs: {
    title: 'Runs so far',
    none: 'No runs yet.',
    loading: 'Reading the records …',
    columns: { when: 'When', setting: 'Setting', caught: 'Caught', rate: 'Rate', outcome: 'Outcome' },
    demo: 'demo',
    open: (when: string) => `Run of ${when}`,
    back: 'All runs',
    missing: 'This run is not on record.',
    unclosed: 'not closed',
  },
  problem: {
    unreachable: 'Catchbench does not answer. Is it still running?',
    unreachableStop:
      'Stop did not get through: Catchbench does not answer. Use the stop button wired to the stand.',
    unknown: (status: number) => `Catchbench refused without saying why (status ${status}).`,
    close: 'Close',
  },
  units: { choose: 'Units', metric: 'kg/ha', us: 'lb/ac' },
};

export type Texts = typeof en;
