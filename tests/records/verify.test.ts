import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { openDatabase } from '../../server/records/engine.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { type Verified, verifyAll } from '../../server/records/verify.ts';
import { temporaryFolders } from './folders.ts';
import { keep, type MadeRun, madeRun } from './made-runs.ts';
import { newRun } from './samples.ts';

const folder = temporaryFolders();
let made: MadeRun;
beforeAll(async () => {
  made = await madeRun(1);
});

async function verified(store: Store): Promise<Verified[]> {
  const all: Verified[] = [];
  for await (const each of verifyAll(store)) all.push(each);
  return all;
}

/** One run on record whose file was changed by `sql` afterwards. */
async function afterChange(sql: string): Promise<Verified> {
  const place = folder();
  const store = await openRecords(place);
  await keep(store, made);
  await store.shut();
  const database = openDatabase(join(place, recordsFile), 100);
  database.exec(sql);
  database.close();
  const again = await openRecords(place);
  const [result] = await verified(again);
  await again.shut();
  return result!;
}

describe('a run computed again from its readings', () => {
  it('gives the figures on record, before and after its blocks are packed and after a restart', async () => {
    const place = folder();
    const store = await openRecords(place);
    const id = await keep(store, made);
    expect(await store.journal(id, 0, 1e6)).toEqual(made.journal);
    await store.settled();
    expect(await store.journal(id, 0, 1e6)).toEqual(made.journal);
    await store.shut();
    const again = await openRecords(place);
    expect(await again.journal(id, 0, 1e6)).toEqual(made.journal);
    const [result] = await verified(again);
    expect(result).toMatchObject({ verdict: 'same', differences: [], entries: made.journal.length });
    await again.shut();
  });

  it('is told where a figure on record was changed', async () => {
    const result = await afterChange(`UPDATE runs SET figures = json_set(figures, '$.rate.low', 1.5)`);
    expect(result.verdict).toBe('differs');
    expect(result.differences).toEqual([
      { where: 'rate.low', stored: 1.5, computed: made.end.figures.rate!.low },
    ]);
    expect(result.sentence).toMatch(/The formulas are the same, so the record was changed or damaged/);
  });

  it('is told apart where the figures come from an older edition of the formulas', async () => {
    const result = await afterChange(
      `UPDATE runs SET figures = json_set(figures, '$.rate.low', 1.5), formula_version = 0`,
    );
    expect(result.verdict).toBe('older formulas');
    expect(result.sentence).toMatch(/made by edition 0 of the formulas, these are edition \d+/);
  });

  it('is told where its readings are damaged', async () => {
    const result = await afterChange(
      `UPDATE blocks SET body = CAST(substr(body, 1, 40) || x'00' || substr(body, 42) AS BLOB)`,
    );
    expect(result.verdict).toBe('unreadable');
    expect(result.sentence).toMatch(/A block of readings is damaged/);
  });

  it('differs where its readings are gone', async () => {
    expect((await afterChange('DELETE FROM blocks')).verdict).toBe('differs');
  });

  it('may have no end yet', async () => {
    const store = await openRecords(folder());
    await store.begin(newRun());
    expect((await verified(store)).map(({ verdict }) => verdict)).toEqual(['unfinished']);
    await store.shut();
  });
});
