import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { findProject } from '../../server/project.ts';
import { openDatabase } from '../../server/records/engine.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { verifyAll } from '../../server/records/verify.ts';
import { recoverRuns } from '../../server/run/session-recover.ts';
import type { RunFigures } from '../../server/run/types.ts';

/** Kills a process that puts runs on record, again and again, and looks each time what is left. */

export interface KillReport {
  kills: number;
  /** Runs that the killed processes had called final, and those found interrupted. */
  finished: number;
  interrupted: number;
  /** Runs that a later process took up and ended, and those that were left to it and could not be taken up: not started yet. */
  takenUp: number;
  notStarted: number;
  /** Milliseconds of readings missing at each kill in mid-run, in order of size: from the first missing reading to the last one that had come. */
  missingMillis: number[];
  /** The same, without the time for which the disk had kept the batch in hand waiting when the kill came. */
  ownMillis: number[];
  /** Whatever must not be, as sentences. */
  wrongs: string[];
}

const noKills = (): KillReport => ({
  ...{ kills: 0, finished: 0, interrupted: 0, takenUp: 0, notStarted: 0 },
  ...{ missingMillis: [], ownMillis: [], wrongs: [] },
});

/** What the process saw in one life. */
interface Life {
  /** Times of the lines of each run, in order of the runs. */
  runs: { id: string; lines: number[]; resumed: boolean }[];
  /** Turns and grams that the drill itself knows, by run. */
  truths: Map<string, [turns: number, grams: number]>;
  isReady: boolean;
  /** When the batch in hand was given to the disk; null while there was none. */
  committingSince: number | null;
  lastSeen: number;
  finals: Map<string, string>;
  items: string[];
  notices: string[];
}

function lifeIn(witness: string): Life {
  const life: Life = {
    ...{ runs: [], truths: new Map(), isReady: false, committingSince: null, lastSeen: 0 },
    ...{ finals: new Map(), items: [], notices: [] },
  };
  // The last line may be cut short.
  for (const line of witness.slice(0, witness.lastIndexOf('\n') + 1).split('\n')) {
    const [word, ...rest] = line.split(' ');
    if (word === 'begin' || word === 'resume') {
      life.runs.push({ id: rest[0]!, lines: [], resumed: word === 'resume' });
    } else if (word === 'truth') life.truths.set(rest[0]!, [Number(rest[1]), Number(rest[2])]);
    else if (word === 'ready') life.isReady = true;
    else if (word === 'line') {
      life.lastSeen = Number(rest[0]);
      life.runs.at(-1)!.lines.push(life.lastSeen);
    } else if (word === 'commit') life.committingSince = Number(rest[0]);
    else if (word === 'committed') life.committingSince = null;
    else if (word === 'final') life.finals.set(rest[0]!, rest.slice(1).join(' '));
    else if (word === 'item') life.items.push(rest[0]!);
    else if (word === 'notice' || word === 'trouble') life.notices.push(rest.join(' '));
  }
  return life;
}

/** Where a program finds the packages of the project. */
async function buildChild(): Promise<string> {
  const outfile = join(findProject().folder, 'node_modules', '.cache', `records-child-${process.pid}.mjs`);
  const entry = new URL('records-child.ts', import.meta.url).pathname;
  await build({
    entryPoints: [entry],
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
  });
  return outfile;
}

const pause = (millis: number) => new Promise((resolve) => setTimeout(resolve, millis));
const isReady = (witness: string) => existsSync(witness) && /^ready /m.test(readFileSync(witness, 'utf8'));

/** Lets it live for so long, from its start or from the moment it is ready for runs. */
async function liveAndDie(
  child: string,
  args: string[],
  millis: number,
  fromReady: boolean,
): Promise<string> {
  const process_ = spawn(process.execPath, [child, ...args], { stdio: ['ignore', 'ignore', 'pipe'] });
  let said = '';
  process_.stderr.on('data', (text) => (said += text));
  const ended = new Promise<void>((resolve) => process_.once('close', () => resolve()));
  while (fromReady && process_.exitCode === null && !isReady(args[1]!)) await pause(20);
  await pause(millis);
  process_.kill('SIGKILL');
  await ended;
  return said;
}

async function journalHash(store: Store, id: string): Promise<string> {
  const hash = createHash('sha256');
  for (let at = 0; ; ) {
    const entries = await store.journal(id, at, 10_000);
    if (entries.length === 0) return hash.digest('hex');
    hash.update(JSON.stringify(entries));
    at += entries.length;
  }
}

/** One folder of records and the kills it went through. */
class Victim {
  readonly report = noKills();
  readonly #child: string;
  readonly #folder: string;
  /** Journal and figures of each run that is over, as first found. */
  readonly #over = new Map<string, string>();
  readonly #items: string[] = [];
  /** Lines of each run on disk after the kill before, and the runs left open then for the next process to take up. */
  readonly #kept = new Map<string, number>();
  #left = new Set<string>();

  constructor(child: string, folder: string) {
    this.#child = child;
    this.#folder = folder;
    mkdirSync(folder, { recursive: true });
  }

  /** `leave`: what is found interrupted is left for the next process to take up. */
  async kill(seed: string, millis: number, fromReady: boolean, leave: boolean): Promise<void> {
    const witnessPath = join(this.#folder, 'witness.txt');
    rmSync(witnessPath, { force: true });
    const said = await liveAndDie(this.#child, [this.#folder, witnessPath, seed, '8'], millis, fromReady);
    if (said !== '') this.#wrong(`it said: ${said}`);
    this.report.kills++;
    const life = lifeIn(existsSync(witnessPath) ? readFileSync(witnessPath, 'utf8') : '');
    for (const notice of life.notices) this.#wrong(`notice: ${notice}`);
    if (!existsSync(join(this.#folder, recordsFile))) return;
    this.#checkFile();
    const store = await openRecords(this.#folder);
    if (store.notices.length > 0) this.#wrong(store.notices.join(' '));
    await this.#checkLife(store, life, leave);
    await store.settled();
    await this.#checkAll(store);
    await store.shut();
  }

  /** As the killed process left it, before anyone mends anything. */
  #checkFile(): void {
    const database = openDatabase(join(this.#folder, recordsFile), 1000);
    const rows = database.prepare('PRAGMA integrity_check').all() as { integrity_check: string }[];
    if (rows[0]?.integrity_check !== 'ok') this.#wrong(`integrity: ${JSON.stringify(rows)}`);
    const strays = database.prepare('PRAGMA foreign_key_check').all();
    if (strays.length > 0) this.#wrong(`foreign keys: ${JSON.stringify(strays)}`);
    database.close();
  }

  async #checkLife(store: Store, life: Life, leave: boolean): Promise<void> {
    const open = new Set((await store.unfinished()).map(({ id }) => id));
    for (const run of life.runs) await this.#checkRun(store, run, life, open);
    for (const id of open) {
      const known = this.#left.has(id) || life.runs.some((run) => run.id === id);
      if (!known) this.#wrong(`an older run was open: ${id}`);
    }
    for (const id of this.#left) await this.#checkLeft(store, id, life, open);
    this.report.interrupted += [...open].filter((id) => !this.#left.has(id)).length;
    this.#items.push(...life.items);
    this.#left = leave ? open : new Set();
    if (leave) return;
    const sentences = await recoverRuns(store);
    if (sentences.length !== open.size) this.#wrong(`${open.size} runs open, ${sentences.length} recovered`);
    if ((await store.unfinished()).length > 0) this.#wrong(`still open: ${sentences.join(' ')}`);
  }

  /** A run that was left for this life to take up: it was, unless it had not been started or the life was too short. */
  async #checkLeft(store: Store, id: string, life: Life, open: Set<string>): Promise<void> {
    if (life.runs.some((run) => run.id === id) || open.has(id)) return;
    const figures = (await store.find(id))?.figures;
    if (figures?.turnsDone === 0 && figures.outcome === 'interrupted') this.report.notStarted++;
    else if (figures?.outcome !== 'complete') this.#wrong(`not taken up: ${id} ${figures?.sentence}`);
  }

  /** What a run that was taken up says at its end is what the drill knows, though nobody heard the board for a while. */
  #checkTakenUp(id: string, final: string, life: Life): void {
    const figures = JSON.parse(final) as RunFigures;
    const [turns, grams] = life.truths.get(id) ?? [Number.NaN, Number.NaN];
    this.report.takenUp++;
    const { outcome, turnsDone, gaps, sentence } = figures;
    // A run that was cut off before its start was in the journal ends so when the wheel had not gone yet.
    if (outcome === 'interrupted' && turnsDone === 0) return;
    const right =
      outcome === 'complete' &&
      gaps.some(({ cause }) => cause === 'service') &&
      Math.abs(turnsDone - turns) < 0.1 &&
      Math.abs(figures.grams! - grams) < 5 * figures.gramsDoubt! + 0.15;
    if (!right)
      this.#wrong(
        `taken up wrongly: ${id}, true ${turns} turns, ${grams} g, ${figures.grams} g: ${sentence}`,
      );
  }

  async #checkRun(
    store: Store,
    { id, lines, resumed }: Life['runs'][number],
    life: Life,
    open: Set<string>,
  ): Promise<void> {
    const final = life.finals.get(id);
    const run = await store.find(id);
    if (final !== undefined) {
      this.report.finished++;
      if (run === null || run.endedAt === null) this.#wrong(`a final run is not on record: ${id}`);
      else if (JSON.stringify(run.figures) !== final) this.#wrong(`the figures of ${id} are not those shown`);
      if (resumed) this.#checkTakenUp(id, final, life);
    }
    const all = (await store.journal(id, 0, 1e6)).filter(({ kind }) => kind === 'line').length;
    const stored = all - (this.#kept.get(id) ?? 0);
    this.#kept.set(id, all);
    if (stored < 0) this.#wrong(`lines were lost: ${id}`);
    if (stored > lines.length) this.#wrong(`more lines than came: ${id}`);
    if (final !== undefined && stored !== lines.length) this.#wrong(`a final run lacks lines: ${id}`);
    const missing = lines.slice(stored);
    if (run === null || open.has(id)) {
      const millis = missing.length === 0 ? 0 : missing.at(-1)! - missing[0]!;
      const waiting = life.committingSince === null ? 0 : Math.max(0, life.lastSeen - life.committingSince);
      this.report.missingMillis.push(millis);
      this.report.ownMillis.push(Math.max(0, millis - waiting));
    }
  }

  /** Nothing that was over has changed since, everything acknowledged is there. */
  async #checkAll(store: Store): Promise<void> {
    for (const id of this.#items) if ((await store.lots.find(id)) === null) this.#wrong(`lost: ${id}`);
    const seen = new Set<string>();
    for await (const { run, verdict, sentence } of verifyAll(store)) {
      seen.add(run.id);
      if (verdict === 'unfinished' && this.#left.has(run.id)) continue;
      if (verdict !== 'same') this.#wrong(sentence);
      const now = (await journalHash(store, run.id)) + JSON.stringify([run.figures, run.trace, run.endedAt]);
      const before = this.#over.get(run.id) ?? now;
      if (now !== before) this.#wrong(`changed after its end: ${run.id}`);
      this.#over.set(run.id, now);
    }
    for (const id of this.#over.keys()) if (!seen.has(id)) this.#wrong(`lost after its end: ${id}`);
  }

  #wrong(sentence: string): void {
    if (this.report.wrongs.length < 20) this.report.wrongs.push(sentence);
  }
}

/** The lengths of life are drawn from `random`, uniform over what a few runs and their packing take. */
export async function killCampaign(
  place: string,
  kills: number,
  random: () => number,
  { together = 2, killsEach = 25, longestMillis = 3000 } = {},
): Promise<KillReport> {
  const child = await buildChild();
  const total = noKills();
  let planned = 0;
  const work = async (): Promise<void> => {
    while (planned < kills) {
      const first = planned;
      const these = Math.min(killsEach, kills - planned);
      planned += these;
      const folder = join(place, `records-${first}`);
      const victim = new Victim(child, folder);
      for (let kill = 0; kill < these; kill++) {
        // Every fourth may die while it opens, recovers and packs; the others live until they make runs.
        // Two of three leave what they interrupt to the next; the last one does not.
        const leave = kill % 3 !== 0 && kill < these - 1;
        await victim.kill(`${first + kill}`, random() * longestMillis, kill % 4 !== 0, leave);
      }
      addTo(total, victim.report);
      rmSync(folder, { recursive: true, force: true });
    }
  };
  await Promise.all(Array.from({ length: together }, work));
  rmSync(child);
  for (const millis of [total.missingMillis, total.ownMillis]) millis.sort((a, b) => a - b);
  return total;
}

function addTo(total: KillReport, part: KillReport): void {
  total.kills += part.kills;
  total.finished += part.finished;
  total.interrupted += part.interrupted;
  total.takenUp += part.takenUp;
  total.notStarted += part.notStarted;
  total.missingMillis.push(...part.missingMillis);
  total.ownMillis.push(...part.ownMillis);
  total.wrongs.push(...part.wrongs);
}
