import type { Identity } from './readings.ts';
import type { Trouble } from './trouble.ts';

/**
 * The connection to the stand as a pure state machine: state and event in, state and effects out, one time to wake at. The shell
 * around it is `link.ts`, the steps are in `step.ts`.
 */

/** Milliseconds. */
export const timing = {
  listAgain: 1000,
  openAtMost: 10_000,
  /** A board that resets when its port is opened needs up to about 2 s until it speaks. */
  askAgain: 400,
  askAtMost: 2500,
  /** How often a port where nothing at all speaks is asked again. */
  askForeign: 2000,
  beat: 250,
  silent: 500,
  silentAtMost: 2000,
  closeAtMost: 2000,
  /** A tick that comes later than this tells of a computer that stood still. */
  latest: 400,
  shortestWait: 250,
  longestWait: 2000,
  /** For a port that is not there: looking costs nothing and resets no board, and people wait for it beside the cable. */
  longestWaitMissing: 600,
} as const;

export type Stage =
  | { at: 'stopped' }
  /** `listAt` is null while the list is being made; `found` is how many ports it last had. */
  | { at: 'searching'; listAt: number | null; found: number }
  | { at: 'opening'; path: string; since: number }
  /** Open, and nobody has said who it is. `spoken`: something came that was not an identity of ours. */
  | { at: 'asking'; path: string; since: number; askAt: number; spoken: boolean }
  | { at: 'connected'; path: string; identity: Identity; heardAt: number; wroteAt: number; quiet: boolean }
  /** Open, and not ours; we listen on. `protocol`: the version it speaks, when it is a stand of another version. */
  | { at: 'foreign'; path: string; spoken: boolean; protocol: number | null; askAt: number }
  | { at: 'closing'; path: string; until: number; again: 'at once' | 'later' }
  | { at: 'waiting'; path: string | null; until: number };

export interface Connection {
  running: boolean;
  /** The path that was chosen, or null to look for the only port there is. */
  wanted: string | null;
  /** Number of the attempt under way; what comes from an older one is ignored. */
  attempt: number;
  /** Attempts since the board was last connected. */
  failures: number;
  /** What ended the last attempt; null once a port is open. */
  trouble: Trouble | null;
  /** The stand last connected, and where. */
  known: { path: string; name: string } | null;
  stage: Stage;
}

export type ConnectionEvent =
  | { type: 'start' }
  | { type: 'stop' }
  | { type: 'choose'; path: string | null }
  | { type: 'listed'; paths: string[] }
  | { type: 'opened'; attempt: number }
  | { type: 'ended'; attempt: number; trouble: Trouble }
  | { type: 'closed'; attempt: number }
  | { type: 'identity'; identity: Identity; rebooted: boolean }
  /** A good line of our board. */
  | { type: 'heard' }
  /** Bytes that are no good line of ours. */
  | { type: 'noise' }
  /** A good line of a board that has not said who it is. */
  | { type: 'unintroduced' }
  | { type: 'other-version'; protocol: number }
  /** Our board's counters went back or leapt. */
  | { type: 'unsure' }
  | { type: 'wrote' }
  | { type: 'tick' };

export type ConnectionEffect =
  | { do: 'list' }
  | { do: 'open'; path: string; attempt: number }
  | { do: 'close'; attempt: number }
  | { do: 'ask' }
  | { do: 'beat' }
  /** The board is there: read its settings. */
  | { do: 'greet' }
  /** The board is no longer there, or no longer the same: no command may reach whoever comes next. */
  | { do: 'hang-up' };

export interface Step {
  next: Connection;
  effects: ConnectionEffect[];
}

export function newConnection(path: string | null): Connection {
  return {
    running: false,
    wanted: path,
    attempt: 0,
    failures: 0,
    trouble: null,
    known: null,
    stage: { at: 'stopped' },
  };
}

/** The stages in which a port is open and ours to read. */
export type OpenStage = Stage & { at: 'asking' | 'connected' | 'foreign' };

export const isOpen = (stage: Stage): stage is OpenStage =>
  stage.at === 'asking' || stage.at === 'connected' || stage.at === 'foreign';

/** When the machine wants its next `tick`, on the clock of the `now` it is given; Infinity for never. */
export function wakeAt({ stage }: Connection): number {
  switch (stage.at) {
    case 'stopped':
      return Number.POSITIVE_INFINITY;
    case 'searching':
      return stage.listAt ?? Number.POSITIVE_INFINITY;
    case 'opening':
      return stage.since + timing.openAtMost;
    case 'asking':
      return Math.min(stage.askAt, stage.since + timing.askAtMost);
    case 'connected':
      return Math.min(
        stage.wroteAt + timing.beat,
        stage.heardAt + (stage.quiet ? timing.silentAtMost : timing.silent),
      );
    case 'foreign':
      return stage.spoken ? Number.POSITIVE_INFINITY : stage.askAt;
    default:
      return stage.until;
  }
}

/** Time to wait after that many failures: doubling from 0.25 s to `longest`, spread by a quarter; `chance` is 0 to below 1. */
export function backoff(failures: number, chance: number, longest: number = timing.longestWait): number {
  const middle = Math.min(longest, timing.shortestWait * 2 ** Math.min(failures, 10));
  return Math.min(longest, Math.max(timing.shortestWait, middle * (0.75 + chance / 2)));
}
