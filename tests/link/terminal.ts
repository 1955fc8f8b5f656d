import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { FarEnd } from './fake-cable.ts';

/** A far end on a pseudo-terminal, made by socat, which the real serial driver opens like any port. */
export class Terminal {
  readonly #folder = mkdtempSync(join(tmpdir(), 'link-'));
  readonly path = join(this.#folder, 'stand');
  readonly #farEnd: FarEnd;
  #socat: ChildProcessWithoutNullStreams | null = null;

  constructor(farEnd: FarEnd) {
    this.#farEnd = farEnd;
    farEnd.onText = (text) => void this.#socat?.stdin.write(text, 'latin1');
  }

  /** Makes the terminal, as when a cable is plugged in. */
  async plug(): Promise<void> {
    this.#socat = spawn('socat', [`PTY,rawer,link=${this.path}`, 'STDIO']);
    this.#socat.stdin.on('error', () => {});
    this.#socat.stdout.on('data', (bytes: Buffer) => this.#farEnd.receive(bytes));
    while (!existsSync(this.path)) await pause(5);
  }

  /** Ends the terminal; a port open on it hangs up. */
  async unplug(): Promise<void> {
    const socat = this.#socat;
    this.#socat = null;
    if (socat === null) return;
    const gone = new Promise((resolve) => socat.once('exit', resolve));
    socat.kill();
    await gone;
    rmSync(this.path, { force: true });
  }

  async remove(): Promise<void> {
    await this.unplug();
    rmSync(this.#folder, { recursive: true, force: true });
  }
}
