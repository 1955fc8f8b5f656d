import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { catchFigures } from '../../server/calibration/hand-run.ts';
import { importTable } from '../../server/calibration/import-table.ts';
import { recordsCommand } from '../../server/records/command.ts';
import { openDatabase } from '../../server/records/engine.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import { formulaVersion } from '../../server/run/session-replay.ts';
import { temporaryFolders } from './folders.ts';
import { keep, type MadeRun, madeRun } from './made-runs.ts';
import { plan } from './samples.ts';

const folder = temporaryFolders();
let made: MadeRun;
beforeAll(async () => {
  made = await madeRun(1);
});

async function records(place: string, ...args: string[]) {
  const said: string[] = [];
  const complained: string[] = [];
  const code = await recordsCommand(
    args,
    place,
    (text) => said.push(text),
    (text) => complained.push(text),
    importTable,
  );
  return { code, said: said.join('\n'), complained: complained.join('\n') };
}

async function filled(): Promise<string> {
  const place = folder();
  const store = await openRecords(place);
  await keep(store, made);
  await store.shut();
  return place;
}

describe('the records command', () => {
  it('verifies, also while Catchbench has the records', async () => {
    const place = await filled();
    const store = await openRecords(place);
    expect(await records(place, 'verify')).toEqual({
      code: 0,
      said: '1 runs computed again: 1 same.',
      complained: '',
    });
    await store.shut();
    const database = openDatabase(join(place, recordsFile), 100);
    database.exec(`UPDATE runs SET figures = json_set(figures, '$.grams', 1)`);
    database.close();
    const { code, said } = await records(place, 'verify');
    expect(code).toBe(2);
    expect(said).toMatch(/does not give the figures on record.*\n {4}grams: on record 1, computed \d/);
  });

  it('backs up beside a running Catchbench, restores, and says where the old ones are', async () => {
    const place = await filled();
    const file = join(folder(), 'backup.db');
    const store = await openRecords(place);
    expect((await records(place, 'backup', file)).code).toBe(0);
    expect((await records(place, 'restore', file)).complained).toMatch(/in use by another program/);
    await store.runs.remove(made.run.id);
    await store.shut();
    expect((await records(place, 'backup', file)).complained).toMatch(/something at .* already/);
    const { code, said } = await records(place, 'restore', file);
    expect(code).toBe(0);
    expect(said).toMatch(/replaced-.*\.db/);
    const again = await openRecords(place);
    expect((await again.runs.list()).items).toHaveLength(1);
    await again.shut();
  });

  it('exports as JSON or as a table, and imports elsewhere', async () => {
    const place = await filled();
    const [json, runs, readings] = ['all.json', 'runs.csv', 'run.csv'].map((name) =>
      join(folder(), name),
    ) as [string, string, string];
    expect((await records(place, 'export', json)).code).toBe(0);
    expect((await records(place, 'export', runs, '--units', 'us')).code).toBe(0);
    expect((await records(place, 'export', readings, '--run', made.run.id)).code).toBe(0);
    expect(readFileSync(runs, 'utf8')).toMatch(/lb\/ac/);
    expect(readFileSync(readings, 'utf8').split('\r\n').length).toBeGreaterThan(300);
    const other = folder();
    expect((await records(other, 'import', json)).said).toMatch(/New: 1 runs, 0 other items/);
    expect((await records(other, 'import', json)).said).toMatch(/New: 0 runs.*There already: 1/);
    expect((await records(other, 'verify')).said).toMatch(/1 same/);
  });

  it('takes in a table of runs weighed by hand, and says what a table cannot bring', async () => {
    const place = await filled();
    const store = await openRecords(place);
    const hand = { turns: 25, grams: 86.2, gramsDoubt: 0.5 };
    const run = { id: '018f0000-0000-7000-8000-00000000beef', startedAt: '2026-03-02T08:00:00.000Z' };
    const figures = catchFigures(plan, hand);
    await store.runs.addByHand({ ...run, demo: false, plan, hand, figures, formulaVersion });
    await store.shut();
    const table = join(folder(), 'Runs.CSV');
    expect((await records(place, 'export', table)).code).toBe(0);
    const other = folder();
    const { code, said } = await records(other, 'import', table);
    expect(said).toMatch(/One run of the stand .* holds no readings/);
    expect(said).toMatch(/New: 1 runs/);
    expect(code).toBe(2);
    expect((await records(other, 'verify')).said).toMatch(/1 same/);
  });

  it('tells the form of the export', async () => {
    const { said } = await records(folder(), 'schema');
    expect(JSON.parse(said).properties.runs.type).toBe('array');
  });

  it.each([
    [['dance'], /"dance" is nothing that can be done/],
    [['backup'], /Name the file/],
    [['verify', 'a', 'b'], /"b" means nothing here/],
    [['export', 'x.csv', '--units', 'furlongs'], /metric or us/],
    [['export', 'x', '--run', 'a', '--calibration', 'b'], /not both/],
    [['import', '/no/such/file'], /There is no file/],
    [['verify', '--colour'], /colour/],
  ])('%j is refused in a sentence', async (args, sentence) => {
    const { code, complained } = await records(await filled(), ...args);
    expect(code).toBe(1);
    expect(complained).toMatch(sentence);
  });

  it('refuses what is not there or not ours, and leaves nothing half written', async () => {
    const place = await filled();
    const file = join(folder(), 'x.json');
    expect((await records(place, 'export', file, '--run', 'nobody')).complained).toMatch(
      /not, or no longer, on record/,
    );
    expect(existsSync(file) || existsSync(`${file}.part`)).toBe(false);
    writeFileSync(file, '{}');
    expect((await records(place, 'import', file)).complained).toMatch(/no export of Catchbench/);
    expect((await records(join(place, 'nowhere'), 'verify')).complained).toMatch(/cannot be opened/);
    expect((await records(place, '--help')).said).toMatch(/npm run records -- verify/);
  });
});
