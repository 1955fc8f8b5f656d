import { beforeAll, describe, expect, it } from 'vitest';
import { openRecords } from '../../server/records/open.ts';
import type { JournalEntry, NewRun } from '../../server/records/types.ts';
import { findUnended, recoverRuns } from '../../server/run/session-recover.ts';
import { replay } from '../../server/run/session-replay.ts';
import { temporaryFolders } from '../records/folders.ts';
import { end, newRun } from '../records/samples.ts';
import { MemoryRecords } from './memory-records.ts';
import { Shop } from './shop.ts';

const folder = temporaryFolders();
let run: NewRun;
let journal: JournalEntry[];

/** One whole run's journal, to be cut short in many places. */
beforeAll(async () => {
  const shop = new Shop({ plan: { turns: 3 } });
  await shop.wholeRun();
  const id = shop.session.view().run.id!;
  journal = await shop.records.journal(id, 0, 100_000);
  const { startedAt, demo, plan, stand } = (await shop.records.find(id))!;
  run = { id, startedAt, demo, plan, stand };
  await shop.shut();
});

async function recovered(kept: number) {
  const records = new MemoryRecords();
  await records.begin(run);
  await records.append(run.id, journal.slice(0, kept));
  const sentences = await recoverRuns(records);
  return { records, sentences, record: (await records.find(run.id))! };
}

describe('a run that was cut off when the service ended', () => {
  it('is closed as interrupted wherever it was cut, with all its readings and the figures they give', async () => {
    const step = Math.floor(journal.length / 25);
    for (let kept = 1; kept < journal.length; kept += step) {
      const { records, record, sentences } = await recovered(kept);
      expect(record.outcome).toBe('interrupted');
      expect(sentences).toEqual([expect.stringMatching(`${kept} records of readings and commands are kept`)]);
      const entries = await records.journal(run.id, 0, 100_000);
      expect(entries.slice(0, kept)).toEqual(journal.slice(0, kept));
      expect(replay(entries)).toEqual({ figures: record.figures, trace: record.trace });
      expect(Date.parse(record.endedAt!)).toBeGreaterThanOrEqual(Date.parse(record.startedAt));
      expect(await recoverRuns(records)).toEqual([]);
    }
  });

  it('keeps the turns and grams that it had', async () => {
    const turning = journal.findIndex(({ text }) => text.includes(' turning '));
    const half = turning + Math.floor((journal.length - turning) / 3);
    const { record } = await recovered(half);
    expect(record.figures!.turnsDone).toBeGreaterThan(0.5);
    expect(record.trace!.length).toBeGreaterThan(10);
  });

  it('keeps its true ending when only the last step was missing', async () => {
    const { record } = await recovered(journal.length);
    expect(record.outcome).toBe('complete');
    expect(record.figures).toEqual(replay(journal).figures);
  });

  it('may have no reading at all', async () => {
    const { records, record } = await recovered(0);
    expect(record.outcome).toBe('interrupted');
    expect(record.figures!.turnsPreset).toBe(3);
    expect(replay(await records.journal(run.id, 0, 10)).figures).toEqual(record.figures);
  });

  it.each([
    ['a catch weighed by hand', '', true],
    ['a run of another stand that shares its records', 'shop-2', true],
    ['a run of its own stand', null, false],
  ])('may go on after %s: %s', async (_what, name, goesOn) => {
    const records = new MemoryRecords();
    await records.begin(run);
    const turning = journal.findIndex(({ text }) => text.includes(' turning '));
    await records.append(run.id, journal.slice(0, turning + 40));
    const since = {
      ...run,
      id: `f${run.id.slice(1)}`,
      stand: { ...run.stand, name: name ?? run.stand.name },
    };
    await records.begin(since);
    await records.close(since.id, { ...end(0), entries: 0 });
    const { unended, sentences } = await findUnended(records, () => Date.parse(run.startedAt) + 10_000);
    expect(unended?.record.id ?? null).toBe(goesOn ? run.id : null);
    expect(sentences).toHaveLength(1);
    expect((await records.find(run.id))!.figures?.sentence ?? '').toMatch(
      goesOn ? /^$/ : /another run was made since/,
    );
  });

  it('is left as it is when its journal cannot be read, and the others are closed', async () => {
    const records = await openRecords(folder());
    const [broken, good] = [newRun(), newRun()];
    for (const each of [broken, good]) await records.begin(each);
    await records.append(broken.id, [{ position: 0, hostMillis: 0, kind: 'input', text: 'no JSON' }]);
    const sentences = await recoverRuns(records);
    expect(sentences[0]).toMatch(/could not be computed from its readings/);
    expect((await records.find(broken.id))!.endedAt).toBeNull();
    expect((await records.find(good.id))!.outcome).toBe('interrupted');
    await records.shut();
  });
});
