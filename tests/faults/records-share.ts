import { v7 } from 'uuid';
import { systemClock } from '../../server/clock.ts';
import { openRecords } from '../../server/records/open.ts';
import { postgresShare } from '../../server/records/share/connect.ts';
import { Sharing } from '../../server/records/share/sharing.ts';
import type { SqliteStore } from '../../server/records/store.ts';
import { everything } from '../records/everything.ts';
import type { MadeRun } from '../records/made-runs.ts';
import type { TestPostgres } from '../records/postgres.ts';
import { calibrationOf, drill, mix } from '../records/samples.ts';

/** Four stands at work, all handing in to one PostgreSQL, whose cable is cut and which is stopped now and then. */

export interface ShareReport {
  cuts: number;
  stops: number;
  edits: number;
  runs: number;
  /** Rounds that failed, as the stands saw it: so often did a condition change to `out of touch`. */
  outOfTouch: number;
  millisToAgree: number;
  wrongs: string[];
}

export interface ShareCampaign {
  postgres: TestPostgres;
  made: MadeRun;
  folder: () => string;
  cuts: number;
  /** 0 to below 1. */
  random: () => number;
}

const stands = 4;
const pause = (milliseconds: number) => new Promise<void>((resolve) => setTimeout(resolve, milliseconds));

class Stand {
  readonly store: SqliteStore;
  readonly sharing: Sharing;
  outOfTouch = 0;
  runs = 0;
  readonly #random: () => number;

  constructor(store: SqliteStore, address: string, random: () => number) {
    this.store = store;
    this.#random = random;
    this.sharing = new Sharing({
      store,
      connect: () => postgresShare(address),
      clock: systemClock,
      pace: { round: 20, first: 10, most: 200 },
      changed: ({ condition }) => {
        if (condition === 'out of touch') this.outOfTouch++;
      },
    });
    this.sharing.start();
  }

  #pick<T>(list: readonly T[]): T | undefined {
    return list[Math.floor(this.#random() * list.length)];
  }

  /** Something that people do: new drills, changes to anybody's, calibrations, runs, deletions. */
  async act(made: MadeRun): Promise<void> {
    const { drills, mixes, calibrations, runs } = this.store;
    const machine = this.#pick((await drills.list()).items);
    const blend = this.#pick((await mixes.list()).items);
    const dice = this.#random();
    if (machine === undefined || blend === undefined || dice < 0.1) {
      await drills.create(drill);
      await mixes.create(mix);
    } else if (dice < 0.5)
      await drills.update(machine.id, { name: `Drill ${this.#random()}`, slip: this.#random() / 10 });
    else if (dice < 0.65) await calibrations.create(calibrationOf(machine.id, blend.id));
    else if (dice < 0.85) await this.#run(made);
    else if (dice < 0.95) {
      const run = this.#pick((await runs.list()).items);
      if (run !== undefined) await runs.setAside(run.id, `Reason ${this.#random()}`, 'Ben');
    } else await mixes.remove(blend.id);
  }

  async #run({ run, journal, end }: MadeRun): Promise<void> {
    const calibration = this.#pick((await this.store.calibrations.list()).items);
    const id = v7();
    await this.store.begin({ ...run, id, calibrationId: calibration?.id ?? null });
    await this.store.append(id, journal);
    await this.store.close(id, end);
    this.runs++;
  }
}

async function sabotage({ postgres, cuts, random }: ShareCampaign): Promise<number> {
  let stops = 0;
  for (let cut = 1; cut <= cuts; cut++) {
    await pause(50 + random() * 400);
    if (cut % 6 !== 0) postgres.cut();
    else {
      stops++;
      await postgres.stopServer(random() < 0.5);
      await pause(random() * 300);
      await postgres.startServer();
    }
  }
  return stops;
}

/** Milliseconds until all stands and the share hold the same, or null where they do not within three minutes. */
async function agreement(all: Stand[]): Promise<number | null> {
  const from = performance.now();
  while (performance.now() - from < 180_000) {
    await pause(200);
    const waiting = await Promise.all(all.map(({ store }) => store.outbox.waiting()));
    if (waiting.some((count) => count > 0)) continue;
    const texts = await Promise.all(all.map(({ store }) => everything(store)));
    if (texts.every((text) => text === texts[0])) return performance.now() - from;
  }
  return null;
}

export async function shareCampaign(campaign: ShareCampaign): Promise<ShareReport> {
  const { postgres, made, folder, cuts, random } = campaign;
  const all: Stand[] = [];
  while (all.length < stands) all.push(new Stand(await openRecords(folder()), postgres.address, random));
  let over = false;
  const work = async (stand: Stand): Promise<void> => {
    while (!over) {
      await stand.act(made);
      await pause(random() * 60);
    }
  };
  const working = Promise.all(all.map(work));
  const stops = await sabotage(campaign);
  over = true;
  await working;
  const millis = await agreement(all);
  const wrongs: string[] =
    millis === null ? ['the stands do not hold the same three minutes after the last cut'] : [];
  const share = postgresShare(postgres.address);
  const { edits, runs } = await share.ids();
  await share.close();
  const made_ = all.reduce((sum, stand) => sum + stand.runs, 0);
  if (runs.length !== made_) wrongs.push(`${made_} runs were made, ${runs.length} are in the share`);
  for (const { store } of all) {
    const listed = new Set<string>();
    for (let after: string | null = null; ; ) {
      const page: Awaited<ReturnType<typeof store.runs.list>> = await store.runs.list({ limit: 500, after });
      for (const { id } of page.items) listed.add(id);
      after = page.next;
      if (after === null) break;
    }
    if (listed.size !== made_) wrongs.push(`${made_} runs were made, a stand has ${listed.size}`);
  }
  const outOfTouch = all.reduce((sum, stand) => sum + stand.outOfTouch, 0);
  for (const { sharing, store } of all) {
    await sharing.stop();
    await store.shut();
  }
  return {
    cuts,
    stops,
    edits: edits.length,
    runs: runs.length,
    outOfTouch,
    millisToAgree: millis ?? -1,
    wrongs,
  };
}
