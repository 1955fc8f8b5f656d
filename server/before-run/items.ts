import type { AskedItem, BeforeRunView, SeenItem } from '../http/before-run-messages.ts';

/** What a stand can see of itself before a run, and what of it is told on record. Pure. */

/** What is known of the stand when someone looks. */
export interface StandNow {
  connected: boolean;
  /** Milliseconds since the board was last heard; null: never. */
  ageMillis: number | null;
  /** The load stands still on every cell; null while no cell has been weighed. */
  still: boolean | null;
  /** Days since the oldest of the cells' scale checks; null where some cell has none. */
  scaleDays: number | null;
  scaleInDate: boolean;
  scalePassed: boolean;
  /** Turns of the wheel seen since the stand was connected, either way. */
  turns: number;
  stopOpen: boolean;
  /** When the stop button was last seen pressed, ISO 8601; null: never. */
  stopTriedAt: string | null;
}

type Seen = BeforeRunView['seen'][number];

/** A link so old is no longer alive. */
const freshMillis = 1000;

const sameDay = (a: Date, b: Date): boolean => a.toDateString() === b.toDateString();

function scaleState({ scaleDays, scaleInDate, scalePassed }: StandNow): Seen['state'] {
  if (scaleDays === null || !scaleInDate) return 'open';
  return scalePassed ? 'good' : 'wrong';
}

function stopState({ stopOpen, stopTriedAt }: StandNow, now: Date): Seen['state'] {
  if (stopOpen) return 'wrong';
  return stopTriedAt !== null && sameDay(new Date(stopTriedAt), now) ? 'good' : 'open';
}

/** Each item that the stand sees itself. */
export function seenOf(stand: StandNow, now: Date): Seen[] {
  const item = (
    name: SeenItem,
    state: Seen['state'],
    figure: number | null,
    at: string | null = null,
  ): Seen => ({
    item: name,
    state,
    figure,
    at,
  });
  if (!stand.connected) {
    const others = (['zero', 'scale', 'wheel', 'stop-button'] as const).map((name) =>
      item(name, 'unknown', null),
    );
    return [item('link', 'wrong', null), ...others];
  }
  const fresh = stand.ageMillis !== null && stand.ageMillis <= freshMillis;
  return [
    item('link', fresh ? 'good' : 'wrong', stand.ageMillis === null ? null : stand.ageMillis / 1000),
    item('zero', stand.still === true ? 'good' : 'open', null),
    item('scale', scaleState(stand), stand.scaleDays),
    item('wheel', stand.turns >= 1 ? 'good' : 'open', stand.turns),
    item('stop-button', stopState(stand, now), null, stand.stopTriedAt),
  ];
}

const askedWords: Record<AskedItem, string> = {
  'on-stands': 'drill on stands',
  chocked: 'wheels chocked',
  'people-clear': 'people clear',
  'drive-engaged': 'drive engaged',
  'tubes-clear': 'tubes clear',
  primed: 'cups filled and primed',
  'bag-on': 'bag on and hanging free',
  'treated-seed': 'gloves and mask where seed is treated',
  'bag-emptied': 'bag emptied and back on',
};

const seenWords: Record<SeenItem, string> = {
  link: 'link alive',
  zero: 'zero steady',
  scale: 'scale check in date',
  wheel: 'wheel sensor seen for a turn',
  'stop-button': 'stop button tried today',
};

const stateWords: Record<Seen['state'], string> = {
  good: 'yes',
  open: 'not seen',
  wrong: 'no',
  unknown: 'unknown',
};

export interface Confirmed {
  at: string;
  items: readonly AskedItem[];
}

/** What became of the list: confirmed, passed over by whoever got the stand ready, or null where nobody was asked. */
export type ListNow = Confirmed | 'passed-over' | null;

function listWords(list: ListNow, named: (items: readonly AskedItem[]) => string): string {
  if (list === null) return 'The list was not confirmed.';
  if (list === 'passed-over') return 'The list was passed over: whoever got the stand ready said so.';
  return `Confirmed ${list.at}: ${named(list.items)}.`;
}

/** The note that stays with the run. */
export function noteOf(view: BeforeRunView, confirmed: ListNow): string {
  const named = (items: readonly AskedItem[]) => items.map((item) => askedWords[item]).join('; ');
  const whole = listWords(confirmed, named);
  const again = view.toConfirm ? '' : ` By getting ready: ${named(view.asked)}.`;
  const seen = view.seen.map(({ item, state }) => `${seenWords[item]}: ${stateWords[state]}`).join('; ');
  return `Before the run. ${whole}${again} The stand: ${seen}.`;
}
