import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { chownSync, existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { connect, createServer, type Server, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { findProgram } from '../needs.ts';

/** A PostgreSQL server of one's own for a test, reached through a cable that can be cut. */

/** Folder of the server's programs. */
function programs(): string {
  const root = '/usr/lib/postgresql';
  const versions = existsSync(root) ? readdirSync(root).toSorted((a, b) => Number(b) - Number(a)) : [];
  const [newest] = versions.filter((version) => existsSync(join(root, version, 'bin', 'initdb')));
  if (newest !== undefined) return join(root, newest, 'bin');
  return join(findProgram('postgres')!, '..');
}

/** PostgreSQL will not run as the superuser: then as the user that its package makes. */
function owner(): { uid: number; gid: number } | Record<string, never> {
  if (process.getuid?.() !== 0) return {};
  const idOf = (flag: string) => Number(execFileSync('id', [flag, 'postgres'], { encoding: 'utf8' }));
  return { uid: idOf('-u'), gid: idOf('-g') };
}

const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

export class TestPostgres {
  readonly #folder = mkdtempSync(join(tmpdir(), 'catchbench-pg-'));
  readonly #data = join(this.#folder, 'data');
  readonly #owner = owner();
  readonly #sockets = new Set<Socket>();
  #server: ChildProcess | null = null;
  #cable: Server | null = null;
  #port = 0;

  async start(): Promise<void> {
    mkdirSync(this.#data);
    const { uid, gid } = this.#owner;
    if (uid !== undefined && gid !== undefined) {
      for (const path of [this.#folder, this.#data]) chownSync(path, uid, gid);
    }
    const args = [
      '-D',
      this.#data,
      '-U',
      'catchbench',
      '-A',
      'trust',
      '-E',
      'UTF8',
      '--no-locale',
      '--no-sync',
    ];
    execFileSync(join(programs(), 'initdb'), args, { ...this.#owner, cwd: this.#folder, stdio: 'ignore' });
    await this.startServer();
    await this.#layCable();
  }

  get address(): string {
    return `postgres://catchbench@127.0.0.1:${this.#port}/postgres`;
  }

  get #socket(): string {
    return join(this.#folder, '.s.PGSQL.5432');
  }

  async startServer(): Promise<void> {
    const args = ['-D', this.#data, '-k', this.#folder, '-c', 'listen_addresses=', '-p', '5432'];
    this.#server = spawn(join(programs(), 'postgres'), args, {
      ...this.#owner,
      cwd: this.#folder,
      stdio: 'ignore',
    });
    while (!(await this.#answers())) await pause(50);
  }

  /** At once, as when the power goes, or after what is under way. */
  async stopServer(atOnce: boolean): Promise<void> {
    const server = this.#server;
    if (server === null) return;
    const ended = new Promise<void>((resolve) => server.once('exit', () => resolve()));
    server.kill(atOnce ? 'SIGQUIT' : 'SIGINT');
    await ended;
    this.#server = null;
  }

  /** It takes connections some time before it takes questions. */
  async #answers(): Promise<boolean> {
    const where = { host: this.#folder, port: 5432, user: 'catchbench', database: 'postgres' };
    const client = new pg.Client(where);
    client.on('error', () => {});
    try {
      await client.connect();
      await client.query('SELECT 1');
      return true;
    } catch {
      return false;
    } finally {
      await client.end().catch(() => {});
    }
  }

  #layCable(): Promise<void> {
    this.#cable = createServer((near) => {
      const far = connect(this.#socket);
      this.#sockets.add(near);
      for (const [from, to] of [
        [near, far],
        [far, near],
      ] as const) {
        from.on('error', () => to.destroy());
        from.on('close', () => {
          this.#sockets.delete(near);
          to.destroy();
        });
        from.pipe(to);
      }
    });
    return new Promise((resolve) => {
      this.#cable!.listen(0, '127.0.0.1', () => {
        this.#port = (this.#cable!.address() as { port: number }).port;
        resolve();
      });
    });
  }

  /** Every connection breaks where it is. */
  cut(): void {
    for (const socket of this.#sockets) socket.resetAndDestroy();
  }

  async end(): Promise<void> {
    this.cut();
    this.#cable?.close();
    await this.stopServer(true);
    rmSync(this.#folder, { recursive: true, force: true });
  }
}
