import { join } from 'node:path';
import { Kysely } from 'kysely';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { sqliteDialect } from '../../server/records/dialect.ts';
import { openDatabase } from '../../server/records/engine.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import { inThisThread } from '../../server/records/port.ts';
import { exchange } from '../../server/records/share/exchange.ts';
import { ShareStore } from '../../server/records/share/share-store.ts';
import type { ShareTables } from '../../server/records/share/share-tables.ts';
import type { SqliteStore } from '../../server/records/store.ts';
import { temporaryFolders } from './folders.ts';
import { drill, newRun } from './samples.ts';

const folder = temporaryFolders();

describe('a backup put in the place of the records while they are in use', () => {
  let place: string;
  let store: SqliteStore;
  beforeEach(async () => {
    place = folder();
    store = await openRecords(place);
  });
  afterEach(() => store.shut());

  /** A backup that holds one drill of this name. */
  async function backupWith(name: string): Promise<string> {
    const other = await openRecords(folder());
    await other.drills.create({ ...drill, name });
    const path = join(folder(), `${name}.db`);
    await other.backup(path);
    await other.shut();
    return path;
  }

  const names = async (): Promise<string[]> =>
    (await store.drills.list()).items.map(({ fields }) => fields.name).toSorted();

  it.each([
    ['', false],
    [', also while somebody reads it', true],
  ])('keeps what was there beside it, to the last change%s', async (_how, isRead) => {
    const path = await backupWith('of the backup');
    const reader = openDatabase(join(place, recordsFile), 100);
    if (isRead) reader.exec('BEGIN; SELECT * FROM items');
    await store.drills.create({ ...drill, name: 'of a moment ago' });
    const before = openDatabase(await store.restore(path), 100);
    expect(before.prepare('SELECT fields FROM items').all()).toEqual([
      { fields: expect.stringContaining('of a moment ago') },
    ]);
    before.close();
    reader.close();
    await store.drills.create({ ...drill, name: 'made since' });
    expect(await names()).toEqual(['made since', 'of the backup']);
  });

  it('is the one that was asked for, whatever else is looked through, restored or copied at the same moment', async () => {
    const [one, other] = [await backupWith('one'), await backupWith('other')];
    const copy = join(folder(), 'copy.db');
    await Promise.all([store.restore(one), store.examine(other), store.backup(copy)]);
    expect(await names()).toEqual(['one']);
    await Promise.all([store.restore(one), store.restore(other)]);
    expect(await names()).toEqual(['other']);
  });

  it('loses no run that begins at the same moment: it is refused, or the run is in what is there then', async () => {
    const path = await backupWith('of the backup');
    const run = newRun();
    const [restored] = await Promise.allSettled([store.restore(path), store.begin(run)]);
    expect(await store.find(run.id)).not.toBeNull();
    if (restored.status === 'rejected') expect(restored.reason.message).toMatch(/A run .* is under way/);
  });

  it('takes from the share what it lacks, also where it came in the middle of a round', async () => {
    const share = new ShareStore(
      new Kysely<ShareTables>({
        dialect: sqliteDialect(inThisThread(openDatabase(join(folder(), 'share.db'), 1000))),
      }),
      'sqlite',
    );
    const other = await openRecords(folder());
    await exchange(store, store.outbox, share);
    await store.drills.create({ ...drill, name: 'waits here' });
    const path = join(folder(), 'early.db');
    await store.backup(path);
    await other.drills.create({ ...drill, name: 'from elsewhere' });
    await exchange(other, other.outbox, share);

    const [deliver, merge] = [share.deliver, store.merge];
    share.deliver = async ({ edits }) => {
      share.deliver = deliver;
      // The delivery itself comes to nothing.
      expect(edits).toHaveLength(1);
      await store.restore(path);
    };
    await exchange(store, store.outbox, share);
    store.merge = async (edits) => {
      store.merge = merge;
      const fresh = await store.merge(edits);
      await store.restore(path);
      return fresh;
    };
    await exchange(store, store.outbox, share);
    await exchange(store, store.outbox, share);
    await exchange(other, other.outbox, share);
    expect(await names()).toEqual(['from elsewhere', 'waits here']);
    expect((await other.drills.list()).items).toHaveLength(2);
    await other.shut();
    await share.close();
  });
});
