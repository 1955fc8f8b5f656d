import { fileURLToPath } from 'node:url';
import { createApp } from '../../server/http/app.ts';
import type { Records, RunRecord } from '../../server/records/types.ts';
import { FakeSession } from './fake-session.ts';
import * as invented from './invented.ts';

/** The real routes and the real socket over an invented session and invented records. */
export interface FakeServer {
  address: string;
  session: FakeSession;
  runs: RunRecord[];
  close(): Promise<void>;
}

const pageFolder = fileURLToPath(new URL('../../web/dist', import.meta.url));

function recordsOf(runs: RunRecord[]): Records {
  const nothing = async () => {};
  return {
    folder: '',
    notices: [],
    begin: nothing,
    append: nothing,
    close: nothing,
    unfinished: async () => [],
    page: async () => ({ runs, next: null }),
    find: async (id) => runs.find((run) => run.id === id) ?? null,
    journal: async () => [],
    setting: async () => null,
    keepSetting: nothing,
    shut: nothing,
  };
}

/** A finished run on record. */
export function recordOf(id: string, setting: string, share: number): RunRecord {
  const plan = { ...invented.plan, drill: { ...invented.plan.drill, setting } };
  return {
    id,
    startedAt: '2026-03-14T08:15:30.000Z',
    endedAt: '2026-03-14T08:16:35.000Z',
    demo: false,
    plan,
    stand: { name: 'shed-1', firmware: '1.0.0', boot: 7, pulsesPerTurn: 60, cells: [] },
    outcome: 'complete',
    figures: invented.figuresOf(plan, 'finished', 25.1, share),
    trace: invented.traceTo(plan, 25.1, share),
    formulaVersion: 1,
  };
}

/** Starts on a free port, or on `port`. */
export async function startFake({ session = new FakeSession(), port = 0 } = {}): Promise<FakeServer> {
  const runs: RunRecord[] = [];
  const app = await createApp({
    session,
    records: recordsOf(runs),
    pageFolder,
    version: '0.0.0',
    report: (error) => console.error(error),
  });
  const address = await app.listen({ host: '127.0.0.1', port });
  return { address, session, runs, close: () => app.close() };
}
