import { effect } from '@preact/signals';
import { readCalibration, readEarly } from './calibrating.ts';
import { calibration, early } from './calibration.ts';
import { readRuns, stopOnKey } from './doing.ts';
import { type LiveEvent, type LiveState, reduce } from './live.ts';
import { offerOf } from './offer.ts';
import { followPeople } from './people.ts';
import { readRoute } from './route.ts';
import { keepSocket } from './socket.ts';
import { drafts, live, now, pending, planMoved, planProblem, refusal, route, runs } from './store.ts';

/** The page is told up to 20 times a second and paints no oftener. */
const paintMillis = 50;

/** Joins the page to the world: socket, clock, address bar, keys. Called once. */
export function wire(): void {
  const connectNow = keepSocket({
    address: socketAddress(),
    dispatch: dispatcher(),
    now: () => performance.now(),
  });
  addEventListener('online', connectNow);
  addEventListener('catchbench:connect', connectNow);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') connectNow();
  });
  addEventListener('hashchange', () => {
    route.value = readRoute(location.hash);
  });
  addEventListener('keydown', stopOnKey, { capture: true });
  setInterval(() => {
    now.value = performance.now();
  }, 500);
  followRuns();
  followCalibration();
  followVerdict();
  followPeople();
}

function socketAddress(): string {
  const address = new URL('./api/live', location.href);
  address.protocol = address.protocol === 'https:' ? 'wss:' : 'ws:';
  address.hash = '';
  return address.href;
}

/** Events are reduced as they come and published together, so that a burst costs one painting. */
function dispatcher(): (event: LiveEvent) => void {
  let waiting: LiveEvent[] = [];
  let due = false;
  const publish = () => {
    due = false;
    const before = live.peek();
    const after = waiting.reduce(reduce, before);
    waiting = [];
    live.value = after;
    now.value = performance.now();
    noticeRestart(before, after);
    if (planChanged(before, after) && pending.peek() !== 'plan' && Object.keys(drafts.peek()).length > 0)
      planMoved.value = true;
  };
  return (event) => {
    waiting.push(event);
    if (due) return;
    due = true;
    setTimeout(publish, paintMillis);
  };
}

/** After a restart of the server nothing that it said before holds; what a person typed does. */
function noticeRestart(before: LiveState, after: LiveState): void {
  if (before.startId === after.startId) return;
  refusal.value = null;
  planProblem.value = null;
  runs.value = null;
  calibration.value = null;
}

const planChanged = (before: LiveState, after: LiveState): boolean =>
  before.plan !== null &&
  before.plan !== after.plan &&
  JSON.stringify(before.plan) !== JSON.stringify(after.plan);

/** Reads the records again whenever a hello came, a run began or one ended. */
function followRuns(): void {
  let known = '';
  effect(() => {
    const { socket, startId, run } = live.value;
    const state = socket === 'open' ? `${startId} ${run?.id} ${run?.figures.phase === 'finished'}` : '';
    if (state === known) return;
    known = state;
    if (state !== '') void readRuns();
  });
}

/** Reads the calibration again whenever a hello came, the server says that it changed, or the plan is another. */
function followCalibration(): void {
  let known = '';
  effect(() => {
    const { socket, startId, plan, calibrationNews } = live.value;
    const state = socket === 'open' ? `${startId} ${calibrationNews} ${JSON.stringify(plan)}` : '';
    if (state === known) return;
    known = state;
    // Without an answer it is asked again with the next message.
    if (state !== '') void readCalibration().then((told) => told || forget(state));
  });
  const forget = (state: string) => {
    if (known === state) known = '';
  };
}

/** A run whose verdict offers to stop: asks what would come next, and again as the run grows. */
function followVerdict(): void {
  let known = '';
  effect(() => {
    const { run, socket } = live.value;
    const { turnsDone = 0, turnsPreset = 1 } = run?.figures ?? {};
    const offer = socket === 'open' ? offerOf(run) : null;
    const share = Math.floor((8 * turnsDone) / turnsPreset);
    const state = offer === null ? '' : `${run?.id} ${offer.kind} ${share}`;
    if (state === known) return;
    known = state;
    if (state === '') early.value = null;
    else if (run?.id) void readEarly(run.id).then((told) => told || forget(state));
  });
  const forget = (state: string) => {
    if (known === state) known = '';
  };
}
