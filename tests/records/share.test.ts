import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { Kysely } from 'kysely';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { sqliteDialect } from '../../server/records/dialect.ts';
import { openDatabase } from '../../server/records/engine.ts';
import { exportedRun } from '../../server/records/export.ts';
import { openRecords } from '../../server/records/open.ts';
import { inThisThread } from '../../server/records/port.ts';
import { postgresShare } from '../../server/records/share/connect.ts';
import { exchange } from '../../server/records/share/exchange.ts';
import { type Delivery, ShareStore } from '../../server/records/share/share-store.ts';
import type { ShareTables } from '../../server/records/share/share-tables.ts';
import type { SqliteStore } from '../../server/records/store.ts';
import { needs } from '../needs.ts';
import { everything } from './everything.ts';
import { temporaryFolders } from './folders.ts';
import { keep, type MadeRun, madeRun } from './made-runs.ts';
import { TestPostgres } from './postgres.ts';
import { calibrationOf, drill, lot, mix } from './samples.ts';

const folder = temporaryFolders();
const hasPostgres = needs('postgres');
const postgres = hasPostgres ? new TestPostgres() : null;
let made: MadeRun;
beforeAll(async () => {
  await postgres?.start();
  made = await madeRun(1);
});
afterAll(() => postgres?.end());

function sqliteShare(path = join(folder(), 'share.db')): ShareStore {
  const port = inThisThread(openDatabase(path, 1000));
  return new ShareStore(new Kysely<ShareTables>({ dialect: sqliteDialect(port) }), 'sqlite');
}

/** An empty share in PostgreSQL. */
async function emptyPostgres(): Promise<ShareStore> {
  const { Client } = (await import('pg')).default;
  const client = new Client({ connectionString: postgres!.address });
  await client.connect();
  await client.query('DROP SCHEMA IF EXISTS catchbench CASCADE');
  await client.end();
  return postgresShare(postgres!.address);
}

const engines: [string, () => Promise<ShareStore>][] = [
  ['SQLite', async () => sqliteShare()],
  ...(hasPostgres ? ([['PostgreSQL', emptyPostgres]] as [string, () => Promise<ShareStore>][]) : []),
];

describe('a share that was brought back from an old copy', () => {
  it('gets again what it lacks, also where others have added more since than was lost', async () => {
    const [path, copy] = [join(folder(), 'share.db'), join(folder(), 'copy.db')];
    const [here, there] = [await openRecords(folder()), await openRecords(folder())];
    const meet = async (store: SqliteStore) => {
      const share = sqliteShare(path);
      await exchange(store, store.outbox, share);
      await share.close();
    };
    await here.drills.create({ ...drill, name: 'kept' });
    await meet(here);
    copyFileSync(path, copy);
    await here.drills.create({ ...drill, name: 'lost' });
    await meet(here);
    copyFileSync(copy, path);
    for (const name of ['one', 'two', 'three']) await there.drills.create({ ...drill, name });
    await meet(there);
    await meet(here);
    await meet(there);
    for (const stand of [here, there]) {
      const names = (await stand.drills.list()).items.map(({ fields }) => fields.name);
      expect(names.toSorted()).toEqual(['kept', 'lost', 'one', 'three', 'two']);
      await stand.shut();
    }
  });
});

describe.each(engines)('a share on %s', (_engine, openShare) => {
  const stores: SqliteStore[] = [];
  const shares: ShareStore[] = [];
  afterEach(async () => {
    for (const each of stores.splice(0)) await each.shut();
    for (const each of shares.splice(0)) await each.close();
  });

  async function setting(stands: number) {
    const share = await openShare();
    shares.push(share);
    while (stores.length < stands) stores.push(await openRecords(folder()));
    return { share, stands: stores, meet: (store: SqliteStore) => exchange(store, store.outbox, share) };
  }

  it("brings a stand's drills, calibrations and runs to the others, each once, with every reading", async () => {
    const { stands, meet, share } = await setting(2);
    const [here, there] = stands as [SqliteStore, SqliteStore];
    const machine = await here.drills.create(drill, 'Ann');
    const blend = await here.mixes.create(mix);
    const calibration = await here.calibrations.create(calibrationOf(machine.id, blend.id));
    const runId = await keep(here, made, { calibrationId: calibration.id });
    await here.runs.setAside(runId, 'The bag touched the frame.', 'Ben');
    expect((await meet(here)).given).toBe(6);
    expect((await meet(there)).taken).toBe(4);
    expect(await everything(there)).toBe(await everything(here));
    expect(await there.journal(runId, 0, 1e6)).toEqual(made.journal);
    for (const stand of stands) expect(await meet(stand)).toEqual({ given: 0, taken: 0 });
    expect(await share.ids()).toMatchObject({ runs: [runId] });
  });

  it('lets the later of two changes count on both sides, and keeps both', async () => {
    const { stands, meet } = await setting(2);
    const [here, there] = stands as [SqliteStore, SqliteStore];
    const { id } = await here.drills.create(drill);
    await meet(here);
    await meet(there);
    await here.drills.update(id, { name: 'First', slip: 0.1 }, 'Ann');
    await there.drills.update(id, { name: 'Second' }, 'Ben');
    for (const stand of [there, here, there, here]) await meet(stand);
    for (const stand of stands) {
      expect((await stand.drills.find(id))!.fields).toEqual({ ...drill, name: 'Second', slip: 0.1 });
      expect((await stand.drills.history(id)).map(({ after, by, counts }) => [after, by, counts])).toEqual([
        ['First', 'Ann', false],
        [0.1, 'Ann', true],
        ['Second', 'Ben', true],
      ]);
    }
  });

  it('goes on where two changes, each right by itself, make a whole that is not: the next who types is told', async () => {
    const { stands, meet } = await setting(2);
    const [here, there] = stands as [SqliteStore, SqliteStore];
    const { id } = await here.lots.create(lot);
    for (const stand of stands) await meet(stand);
    await here.lots.update(id, { germination: 0.9 });
    await there.lots.update(id, { hard: 0.2 });
    await here.drills.create(drill);
    for (const stand of [here, there, here]) await meet(stand);
    for (const stand of stands) {
      expect((await stand.lots.find(id))!.fields).toEqual({ ...lot, germination: 0.9, hard: 0.2 });
      expect((await stand.drills.list()).items).toHaveLength(1);
    }
    await expect(there.lots.update(id, { note: 'sown' })).rejects.toThrow(/more than 100 %/);
    await there.lots.update(id, { hard: 0.1 });
  });

  it('comes to the same end in whatever order deliveries are made, and however often', async () => {
    const { stands, share, meet } = await setting(2);
    const [here, there] = stands as [SqliteStore, SqliteStore];
    const machine = await here.drills.create(drill);
    for (let change = 0; change < 5; change++)
      await here.drills.update(machine.id, { name: `Name ${change}` });
    await keep(here, made);
    const batch = (await here.outbox.next(1000))!;
    const run = (await here.runs.find(made.run.id))!;
    const { journal: _, ...rest } = (await exportedRun(here, run))!;
    const pieces: Delivery[] = [
      ...batch.edits.map((edit): Delivery => ({ edits: [edit], runs: [] })),
      { edits: [], runs: [{ run: rest, journal: made.journal }] },
    ];
    await share.open();
    const order = fc.sample(fc.shuffledSubarray([...pieces, ...pieces], { minLength: 2 * pieces.length }), {
      numRuns: 1,
      seed: Date.now(),
    })[0]!;
    for (const delivery of order) await share.deliver(delivery);
    await meet(there);
    await meet(here);
    expect(await everything(there)).toBe(await everything(here));
    expect((await share.ids()).edits).toHaveLength(batch.edits.length);
  });

  it('hands everything in again where the share is another one, or an older copy', async () => {
    const { stands, meet } = await setting(1);
    const [here] = stands as [SqliteStore];
    await here.drills.create(drill);
    await meet(here);
    const other = sqliteShare();
    shares.push(other);
    expect((await exchange(here, here.outbox, other)).given).toBe(1);
    expect(await here.outbox.waiting()).toBe(0);
  });
});
