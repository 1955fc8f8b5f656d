import type {
  CalibrationView,
  HandRunBody,
  PrintedChartBody,
  RowsBody,
} from '../../../server/http/calibration-messages.ts';
import type {
  LinkView,
  Plan,
  PortsAnswer,
  Problem,
  RunDetail,
  RunsAnswer,
  StartBody,
} from '../../../server/http/messages.ts';
import type { PastAnswer, SpeciesAnswer } from '../../../server/http/setup-messages.ts';
import type { CheckActBody, StandCheckAnswer } from '../../../server/http/stand-messages.ts';
import type { Act } from './acts.ts';

/** What a request came to: the server's answer, or why not, in a sentence. Status 0: no answer came. */
export type Answer<T> = { ok: true; value: T } | { ok: false; status: number; problem: Problem | null };

const patience = 8000;

export async function request<T>(method: string, path: string, body?: unknown): Promise<Answer<T>> {
  try {
    const response = await fetch(`./api/${path}`, {
      method,
      signal: AbortSignal.timeout(patience),
      cache: 'no-store',
      ...(body === undefined
        ? {}
        : { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } }),
    });
    const value: unknown = await response.json().catch(nothingSaid);
    if (response.ok) return { ok: true, value: value as T };
    return { ok: false, status: response.status, problem: asProblem(value) };
  } catch {
    return { ok: false, status: 0, problem: null };
  }
}

/** An answer without words is one; an answer that was cut off before its end is none. */
function nothingSaid(error: unknown): null {
  if (error instanceof SyntaxError) return null;
  throw error;
}

function asProblem(value: unknown): Problem | null {
  if (typeof value !== 'object' || value === null || !('message' in value)) return null;
  return typeof value.message === 'string' ? (value as Problem) : null;
}

export const act = (name: Act, body?: StartBody): Promise<Answer<unknown>> =>
  request('POST', `run/${name}`, body);
export const savePlan = (plan: Plan): Promise<Answer<Plan>> => request('PUT', 'plan', plan);
export const listPorts = (): Promise<Answer<PortsAnswer>> => request('GET', 'ports');
export const usePort = (path: string | null): Promise<Answer<LinkView>> => request('POST', 'link', { path });
export const listRuns = (): Promise<Answer<RunsAnswer>> => request('GET', 'runs');
export const readRun = (id: string): Promise<Answer<RunDetail>> =>
  request('GET', `runs/${encodeURIComponent(id)}`);

type View = Promise<Answer<CalibrationView>>;
const runPath = (id: string, what: string) => `runs/${encodeURIComponent(id)}/${what}`;
export const readCalibration = (): View => request('GET', 'calibration');
/** As if the run in hand ended now. */
export const readEarly = (): View => request('GET', 'calibration/early');
export const startAnew = (): View => request('POST', 'calibration/anew');
export const addHandRun = (body: HandRunBody): View => request('POST', 'calibration/hand-runs', body);
export const compareRows = (body: RowsBody): View => request('POST', 'calibration/rows', body);
export const keepLid = (body: PrintedChartBody): View => request('PUT', 'calibration/printed-chart', body);
export const setAside = (id: string, why: string): View => request('POST', runPath(id, 'set-aside'), { why });
export const bringBack = (id: string): View => request('POST', runPath(id, 'bring-back'));

export const readPast = (): Promise<Answer<PastAnswer>> => request('GET', 'setup/past');
export const findSpecies = (text: string): Promise<Answer<SpeciesAnswer>> =>
  request('GET', `setup/species?text=${encodeURIComponent(text)}`);
export const keepSetUp = (plan: Plan): Promise<Answer<unknown>> => request('POST', 'setup/keep', plan);

type StandCheck = Promise<Answer<StandCheckAnswer>>;
export const readStandCheck = (): StandCheck => request('GET', 'stand/check');
export const beginStandCheck = (): StandCheck => request('POST', 'stand/check');
export const actInStandCheck = (body: CheckActBody): StandCheck => request('POST', 'stand/check/act', body);
export const dropStandCheck = (): StandCheck => request('POST', 'stand/check/drop');
