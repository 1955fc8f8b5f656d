import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { v7 as newId } from 'uuid';
import { Desk } from '../../server/calibration/desk.ts';
import { openChecks } from '../../server/checks.ts';
import { systemClock } from '../../server/clock.ts';
import { createApp } from '../../server/http/app.ts';
import { askedAgain, type BeforeRunView, seenItems } from '../../server/http/before-run-messages.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Records, RunRecord, Store, UnsavedRun } from '../../server/records/types.ts';
import { StandDesk } from '../../server/stand/desk.ts';
import { FakeScale } from './fake-scale.ts';
import { FakeSession } from './fake-session.ts';
import * as invented from './invented.ts';

/** The real routes, the real socket and real calibrations over an invented session and invented runs. */
export interface FakeServer {
  address: string;
  session: FakeSession;
  runs: RunRecord[];
  /** Runs that are over and in memory alone. */
  unsaved: UnsavedRun[];
  /** Silent until it is started. */
  scale: FakeScale;
  /** Puts a run of the session's plan at this setting on record, as if the stand had made it; its number. */
  standRun(setting: number, more?: Partial<RunRecord['figures']>): Promise<string>;
  close(): Promise<void>;
}

const builtPage = fileURLToPath(new URL('../../web/dist', import.meta.url));

/** Invented runs beside those of the calibrations. */
function recordsOf(runs: RunRecord[], store: Store): Records {
  const nothing = async () => {};
  return {
    folder: '',
    notices: [],
    begin: nothing,
    append: nothing,
    close: nothing,
    unfinished: async () => [],
    page: async () => ({ runs, next: null }),
    find: async (id) => runs.find((run) => run.id === id) ?? store.find(id),
    journal: async () => [],
    setting: async () => null,
    keepSetting: nothing,
    shut: nothing,
  };
}

const stand = { name: 'shed-1', firmware: '1.0.0', boot: 7, pulsesPerTurn: 60, cells: [] };

/** A finished run on record. */
export function recordOf(
  id: string,
  setting: string,
  share: number,
  more: Partial<RunRecord['figures']> = {},
): RunRecord {
  const plan = { ...invented.plan, drill: { ...invented.plan.drill, setting } };
  return {
    id,
    startedAt: '2026-03-14T08:15:30.000Z',
    endedAt: '2026-03-14T08:16:35.000Z',
    demo: false,
    plan,
    stand,
    outcome: 'complete',
    figures: invented.figuresOf(plan, 'finished', 25.1, share, more ?? {}),
    trace: invented.traceTo(plan, 25.1, share),
    formulaVersion: 1,
  };
}

async function addStandRun(
  { store, desk, session }: { store: Store; desk: Desk; session: FakeSession },
  setting: number,
  more: Partial<RunRecord['figures']>,
): Promise<string> {
  const id = newId();
  const plan = { ...session.plan, drill: { ...session.plan.drill, setting: String(setting) } };
  const share = invented.shareAt(setting);
  const figures = invented.figuresOf(plan, 'finished', 25.1, share, more ?? {});
  await store.begin({
    id,
    startedAt: new Date().toISOString(),
    demo: session.demo,
    plan,
    stand,
    calibrationId: await desk.forRun(plan),
  });
  await store.close(id, {
    endedAt: new Date().toISOString(),
    outcome: 'complete',
    figures,
    trace: invented.traceTo(plan, 25.1, share),
    formulaVersion: 1,
    entries: 0,
  });
  await desk.runClosed(id);
  return id;
}

/** Everything before a run looked over and confirmed. */
const lookedOver: BeforeRunView = {
  seen: seenItems.map((item) => ({ item, state: 'good', figure: 1, at: '2026-03-14T07:02:00.000Z' })),
  asked: [...askedAgain],
  toConfirm: false,
  confirmedAt: '2026-03-14T07:05:00.000Z',
  trouble: null,
};

/** Starts on a free port, or on `port`; `toConfirm`: with the list before a run still to be looked over. */
export async function startFake({
  session = new FakeSession(),
  port = 0,
  pageFolder = builtPage,
  toConfirm = false,
} = {}): Promise<FakeServer> {
  const runs: RunRecord[] = [];
  const unsaved: UnsavedRun[] = [];
  const folder = mkdtempSync(join(tmpdir(), 'catchbench-page-'));
  const store = await openRecords(folder);
  const desk = new Desk(store, false);
  const scale = new FakeScale(session);
  const putOn = (_cell: number, grams: number) => {
    scale.grams = grams;
  };
  const checks = await openChecks({ session, store, clock: systemClock, putOn });
  if (!toConfirm) checks.beforeRun.view = async () => lookedOver;
  let closing = false;
  const app = await createApp({
    session,
    records: recordsOf(runs, store),
    store,
    desk,
    checks,
    standDesk: new StandDesk({ session, store, clock: systemClock }),
    unsaved: () => unsaved,
    pageFolder,
    version: '0.0.0',
    report: (error) => {
      // A page that has gone may leave a request behind that finds the records shut.
      if (!closing) console.error(error);
    },
  });
  const address = await app.listen({ host: '127.0.0.1', port });
  return {
    address,
    session,
    runs,
    unsaved,
    scale,
    standRun: (setting, more = {}) => addStandRun({ store, desk, session }, setting, more),
    async close() {
      closing = true;
      await app.close();
      scale.stop();
      checks.close();
      await store.shut();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
