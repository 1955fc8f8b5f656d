import { createServer } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { everyAddress, inUrl, shopAddresses } from '../../server/access/network.ts';
import type { MeAnswer } from '../../server/http/access-messages.ts';
import type { Plan, ReadingsAnswer, RunDetail, RunsAnswer, StateAnswer } from '../../server/http/messages.ts';
import { openRecords } from '../../server/records/open.ts';
import { replay } from '../../server/run/session-replay.ts';
import { temporaryFolders } from '../records/folders.ts';
import { freePort, getReady, type Program, runProgram, startDeaf, startProgram } from './program.ts';
import { pause } from './server.ts';

const folder = temporaryFolders();
const started: Program[] = [];
afterEach(async () => {
  for (const { child, ended } of started.splice(0)) {
    child.kill('SIGKILL');
    await ended;
  }
});

async function demo(data: string): Promise<Program> {
  const program = await startProgram(['demo', '--seed', '5', '--speed', '4'], { CATCHBENCH_DATA: data });
  started.push(program);
  return program;
}

async function get<T>(program: Program, path: string): Promise<T> {
  return (await fetch(program.address + path)).json() as Promise<T>;
}

/** Arms as soon as the stand is there, and starts. */
async function turning(program: Program): Promise<string> {
  const post = (act: string) => fetch(`${program.address}/api/run/${act}`, { method: 'POST' });
  while (!(await getReady(program.address))) await pause(50);
  expect((await post('start')).status).toBe(200);
  return (await get<StateAnswer>(program, '/api/state')).run.id!;
}

const readings = (program: Program, id: string, from: number) =>
  get<ReadingsAnswer>(program, `/api/runs/${id}/readings?from=${from}&limit=10000`);

describe('the program, killed in mid-run', () => {
  it('finds the run again at the next start, marked, with every reading that was on disk; and the plan', async () => {
    const data = folder();
    const first = await demo(data);
    const plan = { ...(await get<Plan>(first, '/api/plan')), turns: 20 };
    const headers = { 'content-type': 'application/json' };
    await fetch(`${first.address}/api/plan`, { method: 'PUT', headers, body: JSON.stringify(plan) });
    const id = await turning(first);
    let acknowledged: ReadingsAnswer['entries'] = [];
    while (acknowledged.length < 400) {
      acknowledged = (await readings(first, id, 0)).entries;
      await pause(20);
    }
    first.child.kill('SIGKILL');
    expect(await first.ended).toBe('SIGKILL');

    const second = await demo(data);
    expect(second.said()).toMatch(/was cut off when Catchbench ended; its \d+ records of readings/);
    const { runs } = await get<RunsAnswer>(second, '/api/runs');
    // Beside it lie the runs of the demo's invented week.
    const mine = runs.filter((run) => run.id === id);
    expect(mine.map((run) => [run.figures?.outcome, run.demo])).toEqual([['interrupted', true]]);
    const { entries } = await readings(second, id, 0);
    expect(entries.slice(0, acknowledged.length)).toEqual(acknowledged);
    const run = await get<RunDetail>(second, `/api/runs/${id}`);
    expect(run.figures!.turnsDone).toBeGreaterThan(0.5);
    expect(replay(entries)).toEqual({ figures: run.figures, trace: run.trace });
    expect(await get<Plan>(second, '/api/plan')).toEqual(plan);
    expect((await get<StateAnswer>(second, '/api/state')).run.id).toBeNull();
  });
});

describe('the program, asked to end in mid-run', () => {
  it('stops, puts the run on record as far as it came, and ends in order', async () => {
    const data = folder();
    const program = await demo(data);
    const id = await turning(program);
    await pause(500);
    program.child.kill('SIGTERM');
    expect(await program.ended).toBe(0);
    const records = await openRecords(`${data}/demo`);
    const run = (await records.find(id))!;
    expect(run.outcome).toBe('interrupted');
    const journal = await records.journal(id, 0, 100_000);
    expect(replay(journal).figures).toEqual(run.figures);
    expect(journal.some(({ kind, text }) => kind === 'input' && text.includes('interrupted'))).toBe(true);
    await records.shut();
  });
});

describe('the program, started wrongly', () => {
  it('says so when its port is in use', async () => {
    const occupant = createServer();
    await new Promise<void>((resolve) => occupant.listen(0, '127.0.0.1', resolve));
    const { port } = occupant.address() as { port: number };
    const environment = { PORT: String(port), CATCHBENCH_DATA: folder() };
    const { code, said } = await runProgram(['start', '--port', '/dev/no-such-port'], environment);
    occupant.close();
    expect(code).toBe(1);
    expect(said.trim()).toBe(
      `Port ${port} is in use, perhaps by another Catchbench. Stop that one, or choose another port: PORT=${port + 1} npm start`,
    );
  });

  it('says so when another Catchbench has the records', async () => {
    const data = folder();
    const records = await openRecords(data);
    const { code, said } = await runProgram(['start'], { CATCHBENCH_DATA: data });
    await records.shut();
    expect(code).toBe(1);
    expect(said).toMatch(/in use by another program, most likely another Catchbench/);
    expect(said).not.toMatch(/ at .*:\d+:\d+/);
  });

  it.each([
    [['sow'], {}, /"sow" is no command; there are start and demo/],
    [['start', '--speed', '2'], {}, /--seed and --speed belong to the demo/],
    [['demo', '--speed', 'fast'], {}, /--speed takes a number from 0.1 to 8, not "fast"/],
    [['demo', '--port', 'x'], {}, /demo needs no port/],
    [['start', '--colour'], {}, /colour/],
    [['start'], { PORT: 'eighty' }, /PORT must be a whole number from 0 to 65535, not "eighty"/],
    [['start'], { PORT: '70000' }, /PORT must be a whole number/],
    [['start', 'now'], {}, /"now" means nothing here/],
  ])('%o %o', async (args, environment, sentence) => {
    const { code, said } = await runProgram(args, { CATCHBENCH_DATA: folder(), ...environment });
    expect(code).toBe(1);
    expect(said).toMatch(sentence);
    expect(said).toMatch(/npm start/);
  });

  it('helps', async () => {
    const { code, said } = await runProgram(['--help']);
    expect(code).toBe(0);
    expect(said).toMatch(/npm start -- \[--port <path>\]/);
  });

  it('serves the page though whoever started it does not listen to what it says', async () => {
    const port = await freePort();
    const child = startDeaf(['demo', '--seed', '1'], { CATCHBENCH_DATA: folder(), PORT: String(port) });
    const ask = async () => (await fetch(`http://127.0.0.1:${port}/api/health`).catch(() => null))?.status;
    await expect.poll(ask, { timeout: 15_000 }).toBe(200);
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(await ask()).toBe(200);
    child.kill('SIGTERM');
    await new Promise((resolve) => child.once('close', resolve));
  });

  it('is there for the shop under every address that it tells, by IPv6 too, and on this computer by ::1', async () => {
    const program = await startProgram(['start', '--port', '/dev/no-such-port', '--lan'], {
      CATCHBENCH_DATA: folder(),
    });
    started.push(program);
    const { port } = new URL(program.address);
    await expect.poll(program.said, { timeout: 10_000 }).toMatch(/Pairing code/);
    const who = async (address: string) =>
      ((await (await fetch(`${address}/api/access`)).json()) as MeAnswer).you?.role ?? null;
    expect(await who(`http://127.0.0.1:${port}`)).toBe('manage');
    if ((await everyAddress()) === '::') expect(await who(`http://[::1]:${port}`)).toBe('manage');
    for (const address of shopAddresses().map(inUrl)) {
      expect(program.said()).toContain(`http://${address}:${port}`);
      expect(await who(`http://${address}:${port}`), address).toBeNull();
    }
  });

  it('waits for a stand where there is none, and serves the page meanwhile', async () => {
    const program = await startProgram(['start', '--port', '/dev/no-such-port'], {
      CATCHBENCH_DATA: folder(),
    });
    started.push(program);
    const arm = await fetch(`${program.address}/api/run/arm`, { method: 'POST' });
    expect(arm.status).toBe(409);
    expect(((await arm.json()) as { message: string }).message).toMatch(/Nothing was armed\./);
    const page = await fetch(`${program.address}/`);
    expect(page.status).toBe(200);
    expect(page.headers.get('content-security-policy')).toMatch(/default-src 'self'/);
    expect(await page.text()).toMatch(/<script type="module"/);
  });
});
