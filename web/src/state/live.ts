import type { LinkView, Plan, RunView, SocketMessage } from '../../../server/http/messages.ts';
import { bounded, extend, type Point } from './trace.ts';

/** How the page stands with the server: `open` only after the hello, for before it nothing is known. */
export type SocketState = 'connecting' | 'open' | 'waiting';

/** All that the server has told this page, and when. A pure value; `reduce` is the only way it changes. Times in ms of the page's clock. */
export interface LiveState {
  socket: SocketState;
  /** Retries since the last hello. */
  attempt: number;
  /** When the next try is due, while waiting. */
  retryAt: number | null;
  startId: string | null;
  version: string;
  demo: boolean;
  link: LinkView | null;
  plan: Plan | null;
  run: RunView | null;
  trace: readonly Point[];
  /** How often the server has said that the calibration in hand changed. */
  calibrationNews: number;
  /** How often it has said that who is here or who holds the wheel changed. */
  peopleNews: number;
  /** How often it has said that all on record was replaced: lists are to be asked for anew. */
  recordsNews: number;
  /** When the last message came. */
  heardAt: number | null;
  /** When the server sent the newest state, on its own clock. */
  sentAt: number | null;
}

export type LiveEvent =
  | { type: 'connecting' }
  | { type: 'closed'; retryAt: number }
  | { type: 'message'; message: SocketMessage; at: number };

export const initialLive: LiveState = {
  socket: 'connecting',
  attempt: 0,
  retryAt: null,
  startId: null,
  version: '',
  demo: false,
  link: null,
  plan: null,
  run: null,
  trace: [],
  calibrationNews: 0,
  recordsNews: 0,
  peopleNews: 0,
  heardAt: null,
  sentAt: null,
};

export function reduce(state: LiveState, event: LiveEvent): LiveState {
  switch (event.type) {
    case 'connecting':
      return { ...state, socket: 'connecting', retryAt: null };
    case 'closed':
      return { ...state, socket: 'waiting', attempt: state.attempt + 1, retryAt: event.retryAt };
    case 'message':
      return hear(state, event.message, event.at);
  }
}

function hear(state: LiveState, message: SocketMessage, at: number): LiveState {
  switch (message.type) {
    case 'hello': {
      const { startId, version, demo, link, plan, run } = message;
      const trace = bounded([...message.trace]);
      const { recordsNews } = state;
      return {
        ...initialLive,
        recordsNews,
        socket: 'open',
        startId,
        version,
        demo,
        link,
        plan,
        run,
        trace,
        heardAt: at,
        sentAt: message.sentAt ?? null,
      };
    }
    case 'live': {
      const sameRun = state.run?.id === message.run.id;
      const trace =
        message.trace.length === 0 && sameRun
          ? state.trace
          : extend(sameRun ? state.trace : [], message.trace);
      const { link, run, sentAt = null } = message;
      return { ...state, link, run, trace, heardAt: at, sentAt };
    }
    case 'plan':
      return { ...state, plan: message.plan, heardAt: at };
    case 'begin':
      return { ...state, run: message.run, trace: [], heardAt: at };
    case 'calibration':
      return { ...state, calibrationNews: state.calibrationNews + 1, heardAt: at };
    case 'people':
      return { ...state, peopleNews: state.peopleNews + 1, heardAt: at };
    case 'restored': {
      const [calibrationNews, recordsNews] = [state.calibrationNews + 1, state.recordsNews + 1];
      return { ...state, calibrationNews, recordsNews, heardAt: at };
    }
    default:
      // A later server may say more than this page knows.
      return state;
  }
}

/** A socket text as a message, or null when it is none that this page knows. Shapes within are the server's word: it checks them by schema. */
export function parseMessage(text: string): SocketMessage | null {
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value !== 'object' || value === null || !('type' in value)) return null;
    const known = ['hello', 'live', 'plan', 'begin', 'calibration', 'people', 'restored'] as const;
    return known.some((type) => type === value.type) ? (value as SocketMessage) : null;
  } catch {
    return null;
  }
}

/** The server speaks at least once a second; longer silence than this makes the values old. */
const quietMillis = 2500;

export interface Freshness {
  /** True when the figures shown are not the present ones. */
  stale: boolean;
  /** Milliseconds since the board was last heard, or null when it never was. */
  ageMillis: number | null;
}

/** How old the figures are at page time `now`. */
export function freshness(state: LiveState, now: number): Freshness {
  if (state.heardAt === null || state.link === null) return { stale: true, ageMillis: null };
  const sinceMessage = Math.max(0, now - state.heardAt);
  const ageMillis = state.link.ageMillis === null ? null : state.link.ageMillis + sinceMessage;
  const current =
    state.socket === 'open' && sinceMessage < quietMillis && state.link.condition === 'connected';
  return { stale: !current, ageMillis };
}
