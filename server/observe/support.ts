import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { arch, cpus, freemem, release, totalmem } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { strToU8, zipSync } from 'fflate';
import { openForReading, recordsFile } from '../records/open.ts';
import type { Store, StoredRun } from '../records/types.ts';
import { logFolder } from './log.ts';
import { settingWithoutSecrets, withoutSecrets } from './secrets.ts';

export const supportUsage = `Catchbench support: one file for whoever helps when something is wrong.

  npm run support -- [file.zip]   versions, logs, health, and the last run's readings as they came
      --demo                      of the demo instead

It holds the names of drills and seeds of the last runs, and no passwords. Look through it before you send it on.
`;

const contents = `What is in here
  versions.json          Catchbench, Node, the system
  environment.json       the settings of Catchbench in the environment, passwords taken out
  health.json            what the running service says of itself, where one answered
  metrics.txt            its figures
  records.json           how much is on record, and the last twenty runs in short
  last-run.json          the newest run with its plan and figures
  last-run-readings.txt  its readings, each with milliseconds since it began, as they came from the board
  logs/                  what the service wrote down as it went

It names drills and seeds. It holds no passwords; look through it all the same before you send it on.
`;

const readingsAtOnce = 5000;
const askMillis = 2000;

type Parts = Record<string, string>;

const asJson = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

function versions(version: string): unknown {
  return {
    catchbench: version,
    node: process.version,
    libraries: process.versions,
    system: `${process.platform} ${release()} ${arch()}`,
    processors: `${cpus().length} x ${cpus()[0]?.model ?? 'unknown'}`,
    memoryMegabytes: { all: Math.round(totalmem() / 1e6), free: Math.round(freemem() / 1e6) },
    at: new Date().toISOString(),
  };
}

function settings(environment: NodeJS.ProcessEnv): unknown {
  const ours = Object.entries(environment).filter(([name]) => /^(PORT|CATCHBENCH_.*|NODE_.*)$/.test(name));
  return Object.fromEntries(ours.map(([name, value]) => [name, settingWithoutSecrets(name, value ?? '')]));
}

async function ask(url: string): Promise<string | null> {
  try {
    const answer = await fetch(url, { signal: AbortSignal.timeout(askMillis) });
    return answer.ok ? await answer.text() : `The service answered ${answer.status}.`;
  } catch {
    return null;
  }
}

function logs(folder: string): Parts {
  const from = logFolder(folder);
  if (!existsSync(from)) return {};
  const files = readdirSync(from).filter((name) => name.endsWith('.log'));
  return Object.fromEntries(files.map((name) => [`logs/${name}`, readFileSync(join(from, name), 'utf8')]));
}

const inShort = ({ id, startedAt, endedAt, demo, source, outcome, formulaVersion, setAside }: StoredRun) => ({
  ...{ id, startedAt, endedAt, demo, source, outcome, formulaVersion },
  setAside: setAside !== null,
});

/** The lines of a run's journal as text: milliseconds since it began, what it is, and the text as it came. */
async function readingsOf(store: Store, runId: string): Promise<string> {
  const lines: string[] = [];
  for (let position = 0; ; position += readingsAtOnce) {
    const entries = await store.journal(runId, position, readingsAtOnce);
    for (const { hostMillis, kind, text } of entries) lines.push(`${hostMillis}\t${kind}\t${text}`);
    if (entries.length < readingsAtOnce) return `${lines.join('\n')}\n`;
  }
}

/** What the records hold; where they cannot be read, why. */
async function records(folder: string): Promise<Parts> {
  const file = join(folder, recordsFile);
  if (!existsSync(file)) return { 'records.json': asJson({ folder, sentence: 'There are no records yet.' }) };
  try {
    const store = await openForReading(folder);
    try {
      const { items } = await store.runs.list({ limit: 20 });
      const parts: Parts = {
        'records.json': asJson({ folder, bytes: statSync(file).size, lastRuns: items.map(inShort) }),
      };
      const [newest] = items;
      if (newest === undefined) return parts;
      parts['last-run.json'] = asJson(await store.runs.find(newest.id));
      parts['last-run-readings.txt'] = await readingsOf(store, newest.id);
      return parts;
    } finally {
      await store.shut();
    }
  } catch (error) {
    return { 'records.json': asJson({ folder, sentence: withoutSecrets((error as Error).message) }) };
  }
}

export interface SupportSources {
  /** Folder of the records. */
  folder: string;
  version: string;
  environment: NodeJS.ProcessEnv;
  /** Where the service answers, if one runs. */
  address: string;
}

/** Everything that helps to find out what is wrong, as the bytes of a zip file. What cannot be had says so in its place. */
export async function supportBundle({
  folder,
  version,
  environment,
  address,
}: SupportSources): Promise<Uint8Array> {
  const health = await ask(`${address}/api/health`);
  const metrics = health === null ? null : await ask(`${address}/metrics`);
  const parts: Parts = {
    'what-is-in-here.txt': contents,
    'versions.json': asJson(versions(version)),
    'environment.json': asJson(settings(environment)),
    'health.json': health ?? asJson({ sentence: `No service answered at ${address}.` }),
    ...(metrics === null ? {} : { 'metrics.txt': metrics }),
    ...(await records(folder)),
    ...logs(folder),
  };
  return zipSync(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, strToU8(text)])));
}

interface Surroundings {
  folder: string;
  version: string;
  environment: NodeJS.ProcessEnv;
  print: (sentence: string) => void;
  complain: (sentence: string) => void;
}

const usualName = (): string =>
  `catchbench-support-${new Date().toISOString().slice(0, 19).replaceAll(':', '')}.zip`;

/** Runs `support ...`; `args` without that word. Returns the exit code. */
export async function supportCommand(args: string[], around: Surroundings): Promise<number> {
  const { folder, environment, print, complain } = around;
  let asked: { values: { demo?: boolean; help?: boolean }; positionals: string[] };
  try {
    const flag = { type: 'boolean' } as const;
    asked = parseArgs({
      args,
      options: { demo: flag, help: { ...flag, short: 'h' } },
      allowPositionals: true,
    });
  } catch (error) {
    complain(`${(error as Error).message}\n\n${supportUsage}`);
    return 1;
  }
  if (asked.values.help) {
    print(supportUsage);
    return 0;
  }
  const path = resolve(asked.positionals[0] ?? usualName());
  if (existsSync(path)) {
    complain(`${path} is there already. Name another file.`);
    return 1;
  }
  const bytes = await supportBundle({
    ...around,
    folder: asked.values.demo ? join(folder, 'demo') : folder,
    address: `http://localhost:${environment.PORT || 8321}`,
  });
  try {
    writeFileSync(path, bytes, { flag: 'wx' });
  } catch (error) {
    complain(`${path} could not be written: ${(error as Error).message}.`);
    return 1;
  }
  print(
    `Written to ${path}. It names drills and seeds and holds no passwords; look through it before you send it on.`,
  );
  return 0;
}
