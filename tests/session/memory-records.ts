import type {
  JournalEntry,
  NewRun,
  Records,
  RunEnd,
  RunPage,
  RunRecord,
} from '../../server/records/types.ts';

/** Records that hold nothing longer than the test, without a disk: for many runs in a row. */
export class MemoryRecords implements Records {
  readonly folder = 'memory';
  readonly notices: string[] = [];
  readonly runs = new Map<string, RunRecord>();
  readonly journals = new Map<string, JournalEntry[]>();
  readonly #settings = new Map<string, string>();
  /** What every write fails with, while it is set. */
  failure: Error | null = null;

  async begin(run: NewRun): Promise<void> {
    this.#check();
    const open = { endedAt: null, outcome: null, figures: null, trace: null, formulaVersion: null };
    if (!this.runs.has(run.id)) this.runs.set(run.id, { ...structuredClone(run), ...open });
  }

  async append(runId: string, entries: readonly JournalEntry[]): Promise<void> {
    this.#check();
    const journal = this.journals.get(runId) ?? [];
    for (const entry of entries) journal[entry.position] ??= { ...entry };
    this.journals.set(runId, journal);
  }

  async close(runId: string, { entries, ...end }: RunEnd): Promise<void> {
    this.#check();
    if ((this.journals.get(runId) ?? []).length !== entries) throw new Error('Readings are missing.');
    const run = this.runs.get(runId);
    if (run?.endedAt === null) this.runs.set(runId, { ...run, ...structuredClone(end) });
  }

  async unfinished(): Promise<RunRecord[]> {
    return [...this.runs.values()].filter((run) => run.endedAt === null);
  }

  async page(limit: number, before: string | null): Promise<RunPage> {
    const runs = [...this.runs.values()].reverse().filter((run) => before === null || run.id < before);
    return { runs: runs.slice(0, limit), next: runs.length > limit ? runs[limit - 1]!.id : null };
  }

  async find(runId: string): Promise<RunRecord | null> {
    return this.runs.get(runId) ?? null;
  }

  async journal(runId: string, position: number, limit: number): Promise<JournalEntry[]> {
    return (this.journals.get(runId) ?? []).slice(position, position + limit);
  }

  async setting(key: string): Promise<unknown> {
    return JSON.parse(this.#settings.get(key) ?? 'null');
  }

  async keepSetting(key: string, value: unknown): Promise<void> {
    this.#check();
    this.#settings.set(key, JSON.stringify(value));
  }

  async shut(): Promise<void> {}

  #check(): void {
    if (this.failure !== null) throw this.failure;
  }
}
