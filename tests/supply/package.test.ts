import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { promisify } from 'node:util';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { licenceList, licences } from '../../server/licences.ts';
import { findProject } from '../../server/project.ts';

const run = promisify(execFile);
const { folder: project, version } = findProject();
const folders: string[] = [];
let child: ChildProcess | null = null;

function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'catchbench-supply-'));
  folders.push(folder);
  return folder;
}

async function pack(): Promise<{ path: string; files: string[] }> {
  const folder = newFolder();
  const { stdout } = await run('npm', ['pack', '--ignore-scripts', '--json', '--pack-destination', folder], {
    cwd: project,
  });
  const [made] = JSON.parse(stdout) as { filename: string; files: { path: string }[] }[];
  return { path: join(folder, made!.filename), files: made!.files.map(({ path }) => path) };
}

const digest = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex');

/** Ends the whole group: npx starts the program as a child of its own. */
function end(): void {
  if (child?.pid !== undefined) process.kill(-child.pid, 'SIGTERM');
  child = null;
}

let first: Awaited<ReturnType<typeof pack>>;
beforeAll(async () => {
  first = await pack();
});
afterEach(() => {
  end();
  for (const folder of folders.splice(1)) rmSync(folder, { recursive: true, force: true });
});

describe('the package', () => {
  it('is the same bytes when it is made again', async () => {
    expect(digest((await pack()).path)).toBe(digest(first.path));
  });

  it('holds what a user needs and nothing of the workshop', () => {
    expect(first.files).toEqual(
      expect.arrayContaining([
        'README.md',
        'LICENSE',
        'npm-shrinkwrap.json',
        'server/dist/main.js',
        'web/dist/index.html',
        'firmware-sim/firmware/catchbench-stand.hex',
        'hardware-notes/README.md',
        'server/deploy/catchbench.service',
        'server/deploy/Containerfile',
      ]),
    );
    expect(first.files.filter((path) => /^tests\/|node_modules|\.map$|\.log$|\.db$/.test(path))).toEqual([]);
  });

  it('runs from the file alone with npx, page and emulated stand and all', { timeout: 240_000 }, async () => {
    const folder = newFolder();
    child = spawn(
      'npx',
      ['--yes', '--prefer-offline', '--package', first.path, 'catchbench', 'demo', '--seed', '3'],
      {
        cwd: folder,
        detached: true,
        stdio: ['ignore', 'pipe', 'inherit'],
        env: { ...process.env, CATCHBENCH_DATA: folder, CATCHBENCH_NO_OPEN: '1', PORT: '0' },
      },
    );
    let address = '';
    for await (const line of createInterface({ input: child.stdout! })) {
      address = /http:\/\/localhost:\d+/.exec(line)?.[0] ?? '';
      if (address !== '') break;
    }
    const health = (await (await fetch(`${address}/api/health`)).json()) as { version: string };
    expect(health.version).toBe(version);
    const page = await (await fetch(address)).text();
    expect(page).toContain('<title>Catchbench</title>');
    const script = /src="([^"]+\.js)"/.exec(page)![1]!;
    expect((await fetch(new URL(script, `${address}/`))).status).toBe(200);
  });
});

describe('licences', () => {
  it('of all that comes along are listed (npm run licences writes the list), and are such as anyone may use', () => {
    const list = readFileSync(licenceList(project), 'utf8');
    expect(list).toBe(licences(project));
    const free = /: (MIT|ISC|0BSD|BSD-[23]-Clause|Apache-2\.0|BlueOak-1\.0\.0|Unlicense|Bitstream Vera .*)$/;
    expect(
      list
        .trim()
        .split('\n')
        .filter((line) => !free.test(line)),
    ).toEqual([]);
  });
});
