import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trouble } from '../../server/records/errors.ts';
import type { JournalEntry } from '../../server/records/types.ts';
import { JournalWriter } from '../../server/run/session-journal.ts';
import { TestClock } from '../link/test-clock.ts';
import { end, newRun } from '../records/samples.ts';
import { MemoryRecords } from './memory-records.ts';

const { entries: _, ...ending } = end(0);

/** Records whose every write takes a while, as on a slow disk. */
class SlowRecords extends MemoryRecords {
  readonly #clock: TestClock;
  constructor(clock: TestClock) {
    super();
    this.#clock = clock;
  }
  override async append(runId: string, entries: readonly JournalEntry[]): Promise<void> {
    await super.append(runId, entries);
    await new Promise<void>((resolve) => this.#clock.after(70, resolve));
  }
}

function writerOn(records: MemoryRecords, clock = new TestClock()) {
  const run = newRun();
  let troubles = 0;
  const writer = new JournalWriter(records, run, clock, () => troubles++);
  const kept = () => (records.journals.get(run.id) ?? []).map(({ text }) => text);
  return { writer, clock, run, kept, troubles: () => troubles };
}

describe('the journal of a run', () => {
  it('has every entry on disk within a quarter of a second', async () => {
    const { writer, clock, kept } = writerOn(new MemoryRecords());
    const noted: string[] = [];
    for (let line = 0; line < 400; line++) {
      noted.push(`line ${line}`);
      writer.note('line', `line ${line}`);
      await clock.pass(12.5);
      expect(kept().length).toBeGreaterThanOrEqual(noted.length - 250 / 12.5);
    }
    await writer.flush();
    expect(kept()).toEqual(noted);
  });

  it('loses nothing that is noted while a batch is being written, and keeps the order', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.integer({ min: 0, max: 150 }), { maxLength: 60 }), async (pauses) => {
        const clock = new TestClock();
        const { writer, kept, run } = writerOn(new SlowRecords(clock), clock);
        for (const [index, pause] of pauses.entries()) {
          writer.note('line', String(index));
          await clock.pass(pause);
        }
        const closing = writer.close(ending);
        await clock.pass(1000);
        await closing;
        expect(kept()).toEqual(pauses.map((_pause, index) => String(index)));
        expect(writer.closed).toBe(true);
        expect(writer.trouble).toBeNull();
        expect(run.id).toBe(writer.runId);
      }),
      { numRuns: 30 },
    );
  });

  it('notes the time of each entry since the run began', async () => {
    const clock = new TestClock();
    await clock.pass(5000);
    const records = new MemoryRecords();
    const { writer, run } = writerOn(records, clock);
    writer.note('line', 'a');
    await clock.pass(100);
    writer.note('sent', 'b');
    await writer.flush();
    expect(records.journals.get(run.id)).toEqual([
      { position: 0, hostMillis: 0, kind: 'line', text: 'a' },
      { position: 1, hostMillis: 100, kind: 'sent', text: 'b' },
    ]);
  });

  it('keeps all in memory while the disk is full, says so, and writes it once there is room', async () => {
    const records = new MemoryRecords();
    const { writer, clock, run, kept, troubles } = writerOn(records);
    writer.note('line', '0');
    await clock.pass(300);
    records.failure = trouble('full', '/data');
    for (let line = 1; line < 100; line++) writer.note('line', String(line));
    await clock.pass(300);
    expect(writer.trouble).toMatch(/is full\. Make room/);
    await writer.close(ending);
    expect(writer.closed).toBe(false);
    expect(kept()).toEqual(['0']);
    records.failure = null;
    await clock.pass(1100);
    expect(writer.trouble).toBeNull();
    expect(writer.closed).toBe(true);
    expect(kept()).toHaveLength(100);
    expect(records.runs.get(run.id)).toMatchObject({ outcome: 'complete', endedAt: ending.endedAt });
    expect(troubles()).toBe(2);
    await clock.pass(5000);
    expect(clock.waiting).toBe(0);
  });

  it('gives up in the end rather than fill the memory, and says so', async () => {
    const records = new MemoryRecords();
    records.failure = trouble('full', '/data');
    const { writer, clock } = writerOn(records);
    for (let line = 0; line <= 250_000; line++) writer.note('line', 'x');
    expect(writer.trouble).toMatch(/rest of this run is not kept/);
    records.failure = null;
    await clock.pass(5000);
    expect(records.runs.size).toBe(0);
    expect(clock.waiting).toBe(0);
  });

  it('is let go: nothing more is tried', async () => {
    const records = new MemoryRecords();
    const { writer, clock } = writerOn(records);
    writer.note('line', 'a');
    writer.abandon();
    await clock.pass(5000);
    expect(records.runs.size).toBe(0);
    expect(clock.waiting).toBe(0);
  });
});
