import type { LinkView } from '../../server/http/messages.ts';
import type { BudgetPart, RunOutcome, RunPhase } from '../../server/run/types.ts';
import type { Act, Hint } from '../src/state/acts.ts';
import type { FieldId } from '../src/state/fields.ts';
import type { Verdict } from '../src/state/verdict.ts';

/** English for what the server and the page's own state name by a word: one table for each list of words. */

export const phases: Record<RunPhase, string> = {
  idle: 'Standing by',
  taring: 'Taring',
  ready: 'Ready',
  turning: 'Turning',
  settling: 'Settling',
  finished: 'Finished',
};

export const outcomes: Record<RunOutcome, string> = {
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

export const conditions: Record<LinkView['condition'], string> = {
  searching: 'No stand',
  opening: 'Opening',
  asking: 'Asking who is there',
  connected: 'Stand connected',
  silent: 'Stand silent',
  lost: 'Stand lost',
  'wrong-device': 'Not a stand',
  'wrong-version': 'Wrong version',
};

export const parts: Record<BudgetPart['part'], string> = {
  weighing: 'Weighing',
  scale: 'The scale itself',
  turns: 'Counting turns',
  circumference: 'Wheel circumference',
  'row-spacing': 'Row spacing',
  slip: 'Wheel slip',
  'seed-sampling': 'Seeds come in lumps',
  repeatability: 'One run to the next',
};

export const acts: Record<Act, string> = {
  arm: 'Get ready',
  start: 'Start',
  stop: 'Stop',
  abort: 'Throw away',
};

export const hints: Record<Hint, string> = {
  'no-page': 'No word from Catchbench. If anything turns, use the stop button wired to the stand.',
  connect: 'Next: connect the stand.',
  'save-plan': 'Next: save the plan. It has changes that a run would not use yet.',
  arm: 'Next: hang the empty bag, then get ready. The stand tares itself.',
  'arm-again': 'Next: empty the bag, change the setting if need be, then get ready again.',
  'use-setting':
    'Next: use the setting shown above, set the lever, empty the bag. Or get ready again as it is.',
  taring: 'Wait: taring. Leave the bag alone.',
  'start-motor': 'Next: everyone clear of the wheel? Then start.',
  'start-hand': 'Next: start, then turn the wheel.',
  'turning-motor': 'The stand stops by itself at the count.',
  'turning-hand': 'Keep turning evenly. The lamp blinks before the last turn and stays on at the end.',
  'no-stand': 'The stand does not answer. If the wheel turns, use the stop button wired to it.',
  settling: 'Wait: the last seed falls and the bag comes to rest. Leave it alone.',
};

export const fields: Record<FieldId, { label: string; help: string }> = {
  drillName: { label: 'Drill', help: 'As you call it.' },
  setting: {
    label: 'Setting',
    help: 'As the drill’s own scale says it. A number alone, so that it has a place on the scale.',
  },
  rowSpacing: {
    label: 'Row spacing',
    help: 'From one row to the next. Staggered ranks: spacing within a rank divided by the ranks.',
  },
  circumference: {
    label: 'Wheel circumference',
    help: 'Ground covered by one turn. Best rolled out over several turns with the tyre loaded.',
  },
  rowsCaught: { label: 'Rows caught', help: 'Rows whose seed falls into the bag.' },
  rowCount: { label: 'Rows of the whole drill', help: 'May stay empty.' },
  scaleLow: { label: 'Lowest mark', help: '' },
  scaleHigh: { label: 'Highest mark', help: '' },
  scaleStep: { label: 'Step', help: 'From one mark that can be set to the next.' },
  configuration: {
    label: 'Gate, notch or gear',
    help: 'The one that the drill stands in now; the marks count for it alone.',
  },
  otherConfigurations: {
    label: 'Others that it has',
    help: 'With commas between. Offered where the scale does not reach the wanted rate.',
  },
  slip: { label: 'Wheel slip', help: 'Share of the ground travel that the wheel does not roll.' },
  seedName: { label: 'Seed or mix', help: 'As on the bag.' },
  thousandSeedWeight: {
    label: 'Thousand-seed weight',
    help: 'For a mix the mean of its seeds’ weights, each counted by its share of the mass.',
  },
  bulkDensity: { label: 'Bulk density', help: 'May stay empty. Helps to learn from other seed.' },
  repeatability: {
    label: 'Run-to-run spread',
    help: 'How much runs at one setting differ, beyond what the lumps of seed explain.',
  },
  targetRate: { label: 'Wanted rate', help: 'Seed as it comes from the bag.' },
  tolerance: { label: 'Tolerance', help: 'This much above or below still counts as right.' },
  confidence: {
    label: 'Wanted certainty',
    help: 'How likely the true rate shall be right before testing ends. Empty: 90 %.',
  },
  turns: { label: 'Turns', help: 'Drive-wheel turns of one run.' },
  mode: { label: 'Turned by', help: '' },
  plannedSpeed: { label: 'Field speed', help: 'Leave empty if it does not matter.' },
  rowSpacingDoubt: {
    label: 'Doubt of the row spacing',
    help: 'One standard uncertainty: true within this in two of three cases.',
  },
  circumferenceDoubt: { label: 'Doubt of the circumference', help: 'One standard uncertainty.' },
  slipDoubt: { label: 'Doubt of the slip', help: 'One standard uncertainty, in percentage points.' },
  closedAt: { label: 'Closed mark', help: 'Mark at which the meter should give nothing. Empty: 0.' },
  leverPlay: {
    label: 'Lever play',
    help: 'How far from its mark the lever really stands, in marks; one standard spread. Empty: a fifth of a step.',
  },
};

export const verdicts: Record<Verdict, string> = {
  right: 'The setting is right: the whole 95 % interval lies within the tolerance.',
  high: 'Too much seed: set the drill to give less.',
  low: 'Too little seed: set the drill to give more.',
  open: 'Too close to call: the doubt reaches across the edge of the tolerance. More turns or another run would tell.',
};

export const verdictWords: Record<Verdict, string> = {
  right: 'Within tolerance',
  high: 'Too much',
  low: 'Too little',
  open: 'Undecided',
};
