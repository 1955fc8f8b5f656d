import {
  backoff,
  type Connection,
  type ConnectionEffect,
  type ConnectionEvent,
  isOpen,
  type OpenStage,
  type Stage,
  type Step,
  timing,
  wakeAt,
} from './connection.ts';
import type { Identity } from './readings.ts';
import type { Trouble } from './trouble.ts';

/**
 * One step. `now` in milliseconds on a clock that never goes back; `chance` a random number, 0 to below 1, for the spread of waits.
 */
export function step(state: Connection, event: ConnectionEvent, now: number, chance: number): Step {
  switch (event.type) {
    case 'start':
      return start(state, now);
    case 'stop':
      return stop(state, now);
    case 'choose':
      return choose(state, event.path, now);
    case 'listed':
      return listed(state, event.paths, now);
    case 'opened':
      return opened(state, event.attempt, now);
    case 'ended':
      return ended(state, event.attempt, event.trouble, now, chance);
    case 'closed':
      return closed(state, event.attempt, now, chance);
    case 'tick':
      return tick(state, now, chance);
    default:
      return isOpen(state.stage) ? heard(state, state.stage, event, now) : stay(state);
  }
}

const stay = (next: Connection): Step => ({ next, effects: [] });

function start(state: Connection, now: number): Step {
  if (state.running) return stay(state);
  const next = { ...state, running: true, failures: 0, trouble: null };
  return state.stage.at === 'closing' ? stay(next) : begin(next, now);
}

/** A new attempt, from a state in which no port is open. */
function begin(state: Connection, now: number): Step {
  if (state.wanted !== null) return open(state, state.wanted, now);
  return {
    next: { ...state, stage: { at: 'searching', listAt: null, found: 0 } },
    effects: [{ do: 'list' }],
  };
}

function open(state: Connection, path: string, now: number): Step {
  const attempt = state.attempt + 1;
  const stage: Stage = { at: 'opening', path, since: now };
  return { next: { ...state, attempt, stage }, effects: [{ do: 'open', path, attempt }] };
}

/** Lets go of the open port; what follows is settled when it is closed. */
function close(state: Connection, again: 'at once' | 'later', now: number): Step {
  if (!isOpen(state.stage)) return stay(state);
  const effects: ConnectionEffect[] = [{ do: 'close', attempt: state.attempt }];
  if (state.stage.at === 'connected') effects.unshift({ do: 'hang-up' });
  const stage: Stage = { at: 'closing', path: state.stage.path, until: now + timing.closeAtMost, again };
  return { next: { ...state, stage }, effects };
}

function stop(state: Connection, now: number): Step {
  const next = { ...state, running: false };
  if (isOpen(state.stage)) return close(next, 'at once', now);
  if (state.stage.at === 'closing') return stay(next);
  // An opening that succeeds after this belongs to an old attempt, and the shell closes it.
  return stay({ ...next, attempt: state.attempt + 1, stage: { at: 'stopped' } });
}

function choose(state: Connection, path: string | null, now: number): Step {
  const next = { ...state, wanted: path, failures: 0, trouble: null };
  if (!state.running) return stay(next);
  const { stage } = state;
  if (stage.at === 'closing') return stay({ ...next, stage: { ...stage, again: 'at once' } });
  if (!isOpen(stage)) return begin(next, now);
  return stage.path === path && stage.at !== 'foreign'
    ? stay({ ...next, trouble: state.trouble })
    : close(next, 'at once', now);
}

/** Takes the only port there is; with several, someone has to say which, for opening a port resets what hangs on it. */
function listed(state: Connection, paths: string[], now: number): Step {
  if (state.stage.at !== 'searching') return stay(state);
  const [only] = paths;
  if (only !== undefined && paths.length === 1) return open(state, only, now);
  const stage: Stage = { at: 'searching', listAt: now + timing.listAgain, found: paths.length };
  return stay({ ...state, stage });
}

function opened(state: Connection, attempt: number, now: number): Step {
  if (attempt !== state.attempt || state.stage.at !== 'opening') return stay(state);
  const stage: Stage = {
    at: 'asking',
    path: state.stage.path,
    since: now,
    askAt: now + timing.askAgain,
    spoken: false,
  };
  return { next: { ...state, trouble: null, stage }, effects: [{ do: 'ask' }] };
}

/** The attempt came to its end without our doing. */
function ended(state: Connection, attempt: number, trouble: Trouble, now: number, chance: number): Step {
  const { stage } = state;
  if (attempt !== state.attempt) return stay(state);
  if (stage.at === 'opening') return wait({ ...state, trouble }, stage.path, now, chance);
  // The object may still hold the port: let go of it before the next attempt.
  return close({ ...state, trouble }, 'later', now);
}

function wait(state: Connection, path: string | null, now: number, chance: number): Step {
  const gone = state.trouble?.kind === 'missing' || state.trouble?.kind === 'unplugged';
  const longest = gone ? timing.longestWaitMissing : timing.longestWait;
  const stage: Stage = { at: 'waiting', path, until: now + backoff(state.failures, chance, longest) };
  return stay({ ...state, failures: state.failures + 1, stage });
}

function closed(state: Connection, attempt: number, now: number, chance: number): Step {
  if (attempt !== state.attempt || state.stage.at !== 'closing') return stay(state);
  const { path, again } = state.stage;
  if (!state.running) return stay({ ...state, stage: { at: 'stopped' } });
  return again === 'at once' ? begin(state, now) : wait(state, path, now, chance);
}

function heard(state: Connection, stage: OpenStage, event: ConnectionEvent, now: number): Step {
  switch (event.type) {
    case 'identity':
      return introduced(state, stage, event.identity, event.rebooted, now);
    case 'heard':
      if (stage.at !== 'connected') return stay(state);
      return stay({ ...state, stage: { ...stage, heardAt: now, quiet: false } });
    case 'noise':
      if (stage.at === 'connected' || stage.spoken) return stay(state);
      return stay({ ...state, stage: { ...stage, spoken: true } });
    case 'unintroduced':
      return unintroduced(state, stage, now);
    case 'other-version':
      return otherVersion(state, stage, event.protocol, now);
    case 'unsure':
      return stage.at === 'connected' ? askAgain(state, stage.path, now) : stay(state);
    case 'wrote':
      return stage.at === 'connected' ? stay({ ...state, stage: { ...stage, wroteAt: now } }) : stay(state);
    default:
      return stay(state);
  }
}

function introduced(
  state: Connection,
  from: OpenStage,
  identity: Identity,
  rebooted: boolean,
  now: number,
): Step {
  const { path } = from;
  const wroteAt = from.at === 'connected' ? from.wroteAt : now;
  const stage: Stage = { at: 'connected', path, identity, heardAt: now, wroteAt, quiet: false };
  const next = { ...state, failures: 0, trouble: null, known: { path, name: identity.name }, stage };
  if (from.at !== 'connected') return { next, effects: [{ do: 'greet' }] };
  return { next, effects: rebooted ? [{ do: 'hang-up' }, { do: 'greet' }] : [] };
}

/** What speaks our language is a stand, though its answer may have been lost: it is asked until it says who it is. */
function unintroduced(state: Connection, stage: OpenStage, now: number): Step {
  if (stage.at === 'asking') return stay({ ...state, stage: { ...stage, since: now } });
  if (stage.at !== 'foreign' || stage.protocol !== null) return stay(state);
  const asking: Stage = {
    at: 'asking',
    path: stage.path,
    since: now,
    askAt: now + timing.askAgain,
    spoken: true,
  };
  return { next: { ...state, stage: asking }, effects: [{ do: 'ask' }] };
}

function otherVersion(state: Connection, from: OpenStage, protocol: number, now: number): Step {
  const stage: Stage = { at: 'foreign', path: from.path, spoken: true, protocol, askAt: now };
  return { next: { ...state, stage }, effects: from.at === 'connected' ? [{ do: 'hang-up' }] : [] };
}

function askAgain(state: Connection, path: string, now: number): Step {
  const stage: Stage = { at: 'asking', path, since: now, askAt: now + timing.askAgain, spoken: true };
  return { next: { ...state, stage }, effects: [{ do: 'hang-up' }, { do: 'ask' }] };
}

function tick(before: Connection, now: number, chance: number): Step {
  const late = now - wakeAt(before);
  if (late < 0) return stay(before);
  const state = late > timing.latest ? afterStandstill(before, late) : before;
  const { stage } = state;
  switch (stage.at) {
    case 'searching':
      return { next: { ...state, stage: { ...stage, listAt: null } }, effects: [{ do: 'list' }] };
    case 'opening': {
      const trouble: Trouble = { kind: 'stuck', detail: 'the port did not finish opening' };
      return wait({ ...state, attempt: state.attempt + 1, trouble }, stage.path, now, chance);
    }
    case 'waiting':
      return begin(state, now);
    case 'closing':
      return closed(state, state.attempt, now, chance);
    default:
      return isOpen(stage) ? tickOpen(state, stage, now) : stay(state);
  }
}

/**
 * The computer stood still and the tick comes late: what the board said meanwhile waits in the system's buffer and is read after this. The time
 * counts as no silence; else the port would be closed on a stand that never stopped speaking, and opening it anew may reset the board.
 */
function afterStandstill(state: Connection, late: number): Connection {
  const { stage } = state;
  if (stage.at === 'connected') return { ...state, stage: { ...stage, heardAt: stage.heardAt + late } };
  return stage.at === 'asking' ? { ...state, stage: { ...stage, since: stage.since + late } } : state;
}

function tickOpen(state: Connection, stage: OpenStage, now: number): Step {
  if (stage.at === 'connected') return tickConnected(state, stage, now);
  if (stage.at === 'asking' && now >= stage.since + timing.askAtMost) {
    const { path, spoken } = stage;
    return stay({
      ...state,
      stage: { at: 'foreign', path, spoken, protocol: null, askAt: now + timing.askForeign },
    });
  }
  const later = stage.at === 'asking' ? timing.askAgain : timing.askForeign;
  return { next: { ...state, stage: { ...stage, askAt: now + later } }, effects: [{ do: 'ask' }] };
}

function tickConnected(state: Connection, stage: Stage & { at: 'connected' }, now: number): Step {
  const silence = now - stage.heardAt;
  if (silence >= timing.silentAtMost) {
    const trouble: Trouble = { kind: 'silent', detail: 'nothing heard for two seconds' };
    return close({ ...state, trouble }, 'later', now);
  }
  const next = { ...state, stage: { ...stage, quiet: silence >= timing.silent } };
  if (now < stage.wroteAt + timing.beat) return stay(next);
  return { next: { ...next, stage: { ...next.stage, wroteAt: now } }, effects: [{ do: 'beat' }] };
}
