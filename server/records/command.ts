import {
  closeSync,
  existsSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { FieldError, RecordsError, trouble } from './errors.ts';
import { type ExportScope, exportJson } from './export.ts';
import { readingsCsv, runsCsv, type Units } from './export-csv.ts';
import { ExportFile } from './export-schema.ts';
import { type ImportReport, importJson } from './import.ts';
import { greatestImport } from './import-check.ts';
import { openForReading, openRecords } from './open.ts';
import type { Store } from './types.ts';
import { type Verdict, verifyAll } from './verify.ts';

export const recordsUsage = `Catchbench records: look after what is on record.

  npm run records -- verify             compute every run again from its readings and compare
  npm run records -- backup <file>      copy everything to a new file, also while Catchbench runs
  npm run records -- restore <file>     put a backup in the place of everything (what was there is kept beside it)
  npm run records -- export <file>      everything as JSON, or as a table where the file ends in .csv
      --run <id>                        one run (as .csv: its readings)
      --calibration <id>                one calibration and what belongs to it
      --units metric|us                 the units beside SI in a table, metric where it is left out
  npm run records -- import <file>      take in such JSON, or such a table of runs weighed by hand; what is there already stays
  npm run records -- schema             the form of that JSON, as JSON Schema

  --demo  the records of the demo instead
  CATCHBENCH_DATA  folder of the records
`;

/** What is wrong with the command, for a person. */
class CommandError extends Error {}

interface Asked {
  file: string | null;
  scope: ExportScope;
  units: Units;
  folder: string;
  print: (sentence: string) => void;
  importTable: ImportTable;
}

/** Takes in a table of runs: what these are about is known to the calibrations alone. */
export type ImportTable = (store: Store, text: string) => Promise<ImportReport & { skipped?: string[] }>;

type Act = (asked: Asked) => Promise<number>;

async function withStore<T>(open: Promise<Store>, task: (store: Store) => Promise<T>): Promise<T> {
  const store = await open;
  try {
    return await task(store);
  } finally {
    await store.shut();
  }
}

function fileOf({ file }: Asked): string {
  if (file === null) throw new CommandError('Name the file.');
  return resolve(file);
}

const verify: Act = ({ folder, print }) =>
  withStore(openForReading(folder), async (store) => {
    const counts = new Map<Verdict, number>();
    for await (const { verdict, sentence, differences } of verifyAll(store)) {
      counts.set(verdict, (counts.get(verdict) ?? 0) + 1);
      if (verdict === 'same') continue;
      print(sentence);
      for (const { where, stored, computed } of differences) {
        print(
          `    ${where}: on record ${JSON.stringify(stored)?.slice(0, 60)}, computed ${JSON.stringify(computed)?.slice(0, 60)}`,
        );
      }
    }
    const total = [...counts.values()].reduce((sum, count) => sum + count, 0);
    const parts = [...counts].map(([verdict, count]) => `${count} ${verdict}`).join(', ');
    print(`${total} runs computed again${parts === '' ? '' : `: ${parts}`}.`);
    return (counts.get('differs') ?? 0) + (counts.get('unreadable') ?? 0) === 0 ? 0 : 2;
  });

const backup: Act = (asked) =>
  withStore(openForReading(asked.folder), async (store) => {
    await store.backup(fileOf(asked));
    asked.print(`Everything is in ${fileOf(asked)}.`);
    return 0;
  });

const restore: Act = (asked) =>
  withStore(openRecords(asked.folder), async (store) => {
    const before = await store.restore(fileOf(asked));
    asked.print(`The records are those of ${fileOf(asked)} now. Those from before are in ${before}.`);
    return 0;
  });

async function textFor(store: Store, { scope, units }: Asked, asTable: boolean) {
  if (typeof scope === 'object') {
    const [id, shelf] = 'run' in scope ? [scope.run, store.runs] : [scope.calibration, store.calibrations];
    if ((await shelf.find(id)) === null) throw trouble('unknown', store.folder);
  }
  if (!asTable) return exportJson(store, scope);
  if (typeof scope === 'object' && 'run' in scope) {
    return readingsCsv(store, (await store.runs.find(scope.run))!, units);
  }
  return runsCsv(store, scope, units);
}

/** Writes a new file whole or not at all. */
async function writeNew(path: string, pieces: AsyncIterable<string>): Promise<void> {
  if (existsSync(path)) throw trouble('exists', path);
  const part = `${path}.part`;
  const file = openSync(part, 'w');
  try {
    for await (const piece of pieces) writeSync(file, piece);
    closeSync(file);
    renameSync(part, path);
  } catch (error) {
    rmSync(part, { force: true });
    throw error;
  }
}

const exportTo: Act = (asked) =>
  withStore(openForReading(asked.folder), async (store) => {
    const path = fileOf(asked);
    await writeNew(path, await textFor(store, asked, path.toLowerCase().endsWith('.csv')));
    asked.print(`Written to ${path}.`);
    return 0;
  });

const importFrom: Act = async (asked) => {
  const path = fileOf(asked);
  if (!existsSync(path)) throw new CommandError(`There is no file ${path}.`);
  if (statSync(path).size > greatestImport) {
    throw new CommandError(
      `${basename(path)} is too large to be imported in one piece. Use a backup and restore it.`,
    );
  }
  return withStore(openRecords(asked.folder), async (store) => {
    const take: ImportTable = path.toLowerCase().endsWith('.csv') ? asked.importTable : importJson;
    const {
      items,
      runs,
      edits,
      known,
      conflicts,
      skipped = [],
    } = await take(store, readFileSync(path, 'utf8'));
    for (const sentence of [...conflicts, ...skipped]) asked.print(sentence);
    asked.print(`New: ${runs} runs, ${items} other items, ${edits} changes. There already: ${known}.`);
    return conflicts.length + skipped.length === 0 ? 0 : 2;
  });
};

const schema: Act = async ({ print }) => {
  print(JSON.stringify(ExportFile, null, 2));
  return 0;
};

const acts: Record<string, Act> = { verify, backup, restore, export: exportTo, import: importFrom, schema };

function parse(args: string[]) {
  const text = { type: 'string' } as const;
  const flag = { type: 'boolean' } as const;
  const options = {
    run: text,
    calibration: text,
    units: text,
    demo: flag,
    help: { ...flag, short: 'h' },
  } as const;
  try {
    return parseArgs({ args, options, allowPositionals: true });
  } catch (error) {
    throw new CommandError((error as Error).message);
  }
}

function askedIn(
  args: string[],
  around: Pick<Asked, 'folder' | 'print' | 'importTable'>,
): { act: Act; asked: Asked } | null {
  const { folder } = around;
  const { values, positionals } = parse(args);
  const [name, file = null, ...more] = positionals;
  if (values.help || name === undefined) return null;
  const act = Object.hasOwn(acts, name) ? acts[name]! : null;
  if (act === null) throw new CommandError(`"${name}" is nothing that can be done with the records.`);
  if (more.length > 0) throw new CommandError(`"${more[0]}" means nothing here.`);
  const { units = 'metric', run, calibration } = values;
  if (units !== 'metric' && units !== 'us') throw new CommandError('--units takes metric or us.');
  if (run !== undefined && calibration !== undefined)
    throw new CommandError('Name a run or a calibration, not both.');
  const scope = run !== undefined ? { run } : calibration !== undefined ? { calibration } : 'everything';
  return {
    act,
    asked: { ...around, file, scope, units, folder: values.demo ? join(folder, 'demo') : folder },
  };
}

/**
 * Runs `records ...`; `args` without that word. Returns the exit code: 0 all well, 1 it could not be done, 2 done, with something that people
 * should look at.
 */
export async function recordsCommand(
  args: string[],
  folder: string,
  print: (sentence: string) => void,
  complain: (sentence: string) => void,
  importTable: ImportTable,
): Promise<number> {
  try {
    const found = askedIn(args, { folder, print, importTable });
    if (found !== null) return await found.act(found.asked);
    print(recordsUsage);
    return 0;
  } catch (error) {
    const expected =
      error instanceof RecordsError || error instanceof FieldError || error instanceof CommandError;
    complain(expected ? (error as Error).message : ((error as Error).stack ?? String(error)));
    if (error instanceof CommandError) complain(`\n${recordsUsage}`);
    return 1;
  }
}
