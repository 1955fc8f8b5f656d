import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../server/records/engine.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import type { JournalEntry } from '../../server/records/types.ts';
import { storeEngines } from './engines.ts';
import { temporaryFolders } from './folders.ts';
import { end, figures, lines, newRun, plan, stand } from './samples.ts';

const folder = temporaryFolders();

describe.each(storeEngines())('the store of runs on $name', (engine) => {
  it('gives back a run and its journal as they were put in, to the last digit, after a restart', async () => {
    const place = await engine.newPlace();
    const run = newRun({ demo: true });
    const before = await engine.open(place);
    await before.begin(run);
    await before.append(run.id, lines(30));
    await before.append(run.id, lines(10, 30));
    await before.close(run.id, end(40));
    await before.shut();

    const after = await engine.open(place);
    expect(await after.find(run.id)).toMatchObject({
      ...run,
      endedAt: '2026-03-02T08:01:00.000Z',
      outcome: 'complete',
      figures,
      trace: end(40).trace,
      formulaVersion: 1,
    });
    expect(await after.journal(run.id, 0, 1000)).toEqual(lines(40));
    expect(await after.journal(run.id, 35, 3)).toEqual(lines(3, 35));
    expect(after.notices).toEqual([]);
    await after.shut();
  });

  it('keeps any text and any time unchanged', async () => {
    const records = await engine.open(await engine.newPlace());
    // Neither a line nor JSON can hold a lone surrogate or a NUL.
    const text = fc
      .string({ unit: 'binary', maxLength: 200 })
      .filter((sample) => Buffer.from(sample).toString() === sample && !sample.includes('\0'));
    const time = fc
      .double({ min: 0, max: 1e12, noNaN: true })
      .filter((millis) => millis === 0 || millis > 1e-9);
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(text, time), { maxLength: 20 }), async (samples) => {
        const run = newRun();
        const entries: JournalEntry[] = samples.map(([sample, hostMillis], position) => ({
          position,
          hostMillis,
          kind: 'input',
          text: sample,
        }));
        await records.begin(run);
        await records.append(run.id, entries);
        expect(await records.journal(run.id, 0, 100)).toEqual(entries);
      }),
      { numRuns: 40 },
    );
    await records.shut();
  });

  it('takes the same entries twice without harm, for a writer that did not see the first answer', async () => {
    const records = await engine.open(await engine.newPlace());
    const run = newRun();
    await records.begin(run);
    await records.begin(run);
    await records.append(run.id, lines(10));
    await records.append(run.id, lines(10, 5));
    expect((await records.journal(run.id, 0, 100)).map(({ position }) => position)).toEqual([
      ...Array(15).keys(),
    ]);
    await records.shut();
  });

  it('gives back a long journal entry for entry, in batches of any size, before and after it is packed', async () => {
    const records = await engine.open(await engine.newPlace());
    const run = newRun();
    const all = lines(6000);
    await records.begin(run);
    for (let at = 0, size = 1; at < all.length; at += size, size = 1 + ((size * 31 + 7) % 97)) {
      await records.append(run.id, all.slice(at, at + size));
    }
    expect(await records.journal(run.id, 0, 10_000)).toEqual(all);
    expect(await records.journal(run.id, 4321, 50)).toEqual(all.slice(4321, 4371));
    await records.close(run.id, end(6000));
    await records.settled();
    expect(await records.journal(run.id, 0, 10_000)).toEqual(all);
    expect(await records.journal(run.id, 4321, 50)).toEqual(all.slice(4321, 4371));
    await records.shut();
  });

  it('gives every entry once to whoever reads while the journal grows and while it is packed', async () => {
    const records = await engine.open(await engine.newPlace());
    const run = newRun();
    const all = lines(4050);
    const positions = async () => (await records.journal(run.id, 0, 10_000)).map(({ position }) => position);
    const asked: Promise<number[]>[] = [];
    await records.begin(run);
    // Small batches make blocks that grow; more than a hundred blocks are read in parts.
    for (let at = 0; at < all.length; at += 15) {
      if (at % 450 === 0) asked.push(positions());
      await records.append(run.id, all.slice(at, at + 15));
    }
    await records.close(run.id, end(4050));
    for (let more = 0; more < 5; more++) asked.push(positions());
    await records.settled();
    for (const read of await Promise.all(asked)) expect(read).toEqual([...read.keys()]);
    expect((await asked.at(-1)!).length).toBe(4050);
    await records.shut();
  });

  it('closes a run only when all its readings are on disk', async () => {
    const records = await engine.open(await engine.newPlace());
    const run = newRun();
    await records.begin(run);
    await records.append(run.id, lines(9));
    await expect(records.close(run.id, end(10))).rejects.toThrow(/Readings of this run are missing/);
    expect((await records.find(run.id))?.endedAt).toBeNull();
    await records.append(run.id, lines(1, 9));
    await records.close(run.id, end(10));
    expect((await records.find(run.id))?.outcome).toBe('complete');
    await records.shut();
  });

  it('never changes the end of a run once it has one', async () => {
    const records = await engine.open(await engine.newPlace());
    const run = newRun();
    await records.begin(run);
    await records.close(run.id, end(0));
    await records.close(run.id, { ...end(0), outcome: 'aborted' });
    expect((await records.find(run.id))?.outcome).toBe('complete');
    await records.shut();
  });

  it('refuses readings of a run that it does not know', async () => {
    const records = await engine.open(await engine.newPlace());
    await expect(records.append('nobody', lines(1))).rejects.toThrow(/could not be read or written/);
    await records.shut();
  });

  it('finds the runs without an end, oldest first', async () => {
    const records = await engine.open(await engine.newPlace());
    const [first, second, third] = [newRun(), newRun(), newRun()];
    for (const run of [third, first, second]) await records.begin(run);
    await records.close(second.id, end(0));
    expect((await records.unfinished()).map(({ id }) => id)).toEqual([first.id, third.id]);
    await records.shut();
  });

  it('lists runs newest first, a page at a time, each once', async () => {
    const records = await engine.open(await engine.newPlace());
    const runs = Array.from({ length: 7 }, () => newRun());
    for (const run of runs) await records.begin(run);
    const seen: string[] = [];
    let before: string | null = null;
    do {
      const page = await records.page(3, before);
      seen.push(...page.runs.map(({ id }) => id));
      before = page.next;
    } while (before !== null);
    expect(seen).toEqual(runs.map(({ id }) => id).reverse());
    expect(await records.find('nobody')).toBeNull();
    await records.shut();
  });

  it('keeps settings over a restart, the newest value of each', async () => {
    const place = await engine.newPlace();
    const before = await engine.open(place);
    expect(await before.setting('plan')).toBeNull();
    await before.keepSetting('plan', { turns: 1 });
    await before.keepSetting('plan', plan);
    await before.shut();
    const after = await engine.open(place);
    expect(await after.setting('plan')).toEqual(plan);
    await after.shut();
  });

  it('holds the stand as it was at arming', async () => {
    const records = await engine.open(await engine.newPlace());
    const run = newRun();
    await records.begin(run);
    expect((await records.find(run.id))?.stand).toEqual(stand);
    await records.shut();
  });
});

describe('the store of runs on SQLite', () => {
  it('writes through to the disk at every commit and checks references', async () => {
    const place = folder();
    const records = await openRecords(place);
    await records.begin(newRun());
    const reader = openDatabase(join(place, recordsFile), 100);
    expect(reader.prepare('PRAGMA journal_mode').get()).toEqual({ journal_mode: 'wal' });
    expect(reader.prepare('SELECT count(*) AS runs FROM runs').get()).toEqual({ runs: 1 });
    reader.close();
    await records.shut();
  });
});
