/**
 * The stand on a pseudo-terminal, so that the real serial driver opens it like any port. `socat` keeps the terminal; what the
 * board says while nobody has it open is lost, as on a real port.
 */
import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import type { Stand } from './stand.ts';

/** Bytes that wait for a host that has the port open and does not read; what comes on top is lost. */
const mostUnread = 65_536;

/** How often, and how many times at most, a terminal is looked for under its name. */
const lookMilliseconds = 5;
const mostLooks = 1000;

/** The pseudo-terminal cannot be had on this machine; the message says what to do. */
export class PseudoTerminalError extends Error {
  override name = 'PseudoTerminalError';
}

export interface PseudoTerminal {
  /** What to give to a serial driver. */
  readonly path: string;
  close(): Promise<void>;
}

/**
 * Puts a stand on a pseudo-terminal until it is closed. The stand's time must be made to pass by other means (see `pace`).
 * @param path where the terminal is to be found; a name of its own in the folder for temporary files when left out.
 * @throws PseudoTerminalError where there are none, `socat` is missing or `path` is taken.
 */
export async function openPseudoTerminal(stand: Stand, path?: string): Promise<PseudoTerminal> {
  if (process.platform === 'win32') {
    throw new PseudoTerminalError(
      'Windows has no pseudo-terminals that a serial driver could open. Use `npm run demo`, which needs none, or run this on Linux or macOS.',
    );
  }
  if (path !== undefined && existsSync(path)) {
    throw new PseudoTerminalError(
      `${path} exists already. Choose another path, or remove it if nothing uses it.`,
    );
  }
  const folder = path === undefined ? mkdtempSync(join(tmpdir(), 'catchbench-')) : undefined;
  const terminal = new Terminal(stand, path ?? join(folder as string, 'stand'));
  const removeFolder = () => folder !== undefined && rmSync(folder, { recursive: true, force: true });
  try {
    await terminal.open();
  } catch (error) {
    removeFolder();
    throw error;
  }
  return {
    path: terminal.path,
    async close() {
      await terminal.close();
      removeFolder();
    },
  };
}

/** One `socat` after the other: it ends when the host closes the terminal, and the next waits for the next host. */
class Terminal {
  readonly path: string;
  readonly #stand: Stand;
  #socat: ChildProcessWithoutNullStreams | undefined;
  #hostIsThere = false;
  #closing = false;
  /** From the host, and not yet taken by the stand. */
  #unsent: Uint8Array = new Uint8Array();
  #endListening = () => {};

  constructor(stand: Stand, path: string) {
    this.#stand = stand;
    this.path = path;
  }

  async open(): Promise<void> {
    await this.#start();
    const endBytes = this.#stand.onBytes((bytes) => this.#toHost(bytes));
    const endSteps = this.#stand.onStep(() => this.#toBoard());
    this.#endListening = () => {
      endBytes();
      endSteps();
    };
  }

  async close(): Promise<void> {
    this.#closing = true;
    this.#endListening();
    const socat = this.#socat;
    if (socat === undefined) return;
    const gone = new Promise((resolve) => socat.once('exit', resolve));
    socat.kill();
    await gone;
  }

  /** Resolves once the terminal can be opened. */
  #start(): Promise<void> {
    return new Promise((resolve, reject) => {
      const terminal = `PTY,rawer,link=${this.path},wait-slave,pty-interval=0.02`;
      const socat = spawn('socat', ['-d', '-d', terminal, 'STDIO']);
      socat.once('error', (error) => reject(cannotStart(error)));
      socat.once('exit', () => {
        reject(new PseudoTerminalError(`socat could not make a pseudo-terminal at ${this.path}.`));
        this.#restart();
      });
      createInterface(socat.stderr).on('line', (line) => {
        // socat says so just before it makes the link.
        if (line.includes('PTY is')) this.#linked().then(resolve, reject);
        else if (line.includes('starting data transfer loop')) this.#hostIsThere = true;
        else if (line.includes('is at EOF')) this.#hostHasGone();
      });
      // The host may go while something is on its way to it.
      socat.stdin.on('error', () => {});
      socat.stdout.on('data', (bytes: Buffer) => this.#fromHost(bytes));
      this.#socat = socat;
    });
  }

  /** Resolves once the terminal is there under its name, which is a moment after socat says that it has one. */
  async #linked(): Promise<void> {
    for (let look = 0; !existsSync(this.path); look++) {
      if (look === mostLooks) throw new PseudoTerminalError(`socat made no link at ${this.path}.`);
      await pause(lookMilliseconds);
    }
  }

  #hostHasGone(): void {
    this.#hostIsThere = false;
    this.#socat?.kill();
  }

  #restart(): void {
    this.#hostIsThere = false;
    this.#unsent = new Uint8Array();
    this.#socat = undefined;
    // A machine that lets socat start once and not again has no more to give: the port stays away, as an unplugged one.
    if (!this.#closing) this.#start().catch(() => {});
  }

  #toHost(bytes: Uint8Array): void {
    if (this.#hostIsThere && this.#socat && this.#socat.stdin.writableLength < mostUnread)
      this.#socat.stdin.write(bytes);
  }

  #fromHost(bytes: Buffer): void {
    this.#unsent = Buffer.concat([this.#unsent, bytes]);
    this.#toBoard();
  }

  /** The stand takes what it has room for; until it has taken the rest, the host waits. */
  #toBoard(): void {
    if (this.#unsent.length === 0) return;
    this.#unsent = this.#unsent.subarray(this.#stand.write(this.#unsent));
    if (this.#unsent.length > 0) this.#socat?.stdout.pause();
    else this.#socat?.stdout.resume();
  }
}

function cannotStart(error: Error): PseudoTerminalError {
  const missing = (error as NodeJS.ErrnoException).code === 'ENOENT';
  return new PseudoTerminalError(
    missing
      ? 'The program socat, which makes pseudo-terminals, is not installed. Install it (Debian, Ubuntu: sudo apt install socat; macOS: brew install socat) and try again.'
      : `socat could not be started: ${error.message}.`,
  );
}
