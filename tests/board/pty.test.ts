/** The stand on a pseudo-terminal, opened by the real serial driver, and the command that puts it there. */
import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { SerialPort } from 'serialport';
import { afterEach, describe, expect, it, onTestFinished } from 'vitest';
import { projectFile } from '../../firmware-sim/project-file.ts';
import { openPseudoTerminal, type PseudoTerminal } from '../../firmware-sim/pty.ts';
import { pace, type Stand } from '../../firmware-sim/stand.ts';
import { needs } from '../needs.ts';
import { setUp } from './setup.ts';
import { wireLine } from './talk.ts';

/** A driver's port, and what came out of it so far. */
class HostPort {
  text = '';
  readonly port: SerialPort;
  #changed = () => {};

  private constructor(port: SerialPort) {
    this.port = port;
    port.on('data', (bytes: Buffer) => {
      this.text += bytes.toString('latin1');
      this.#changed();
    });
  }

  static open(path: string): Promise<HostPort> {
    return new Promise((resolve, reject) => {
      const port: SerialPort = new SerialPort({ path, baudRate: 115_200 }, (error) =>
        error ? reject(error) : resolve(new HostPort(port)),
      );
    });
  }

  async until(pattern: RegExp): Promise<RegExpExecArray> {
    for (;;) {
      const found = pattern.exec(this.text);
      if (found) return found;
      await new Promise<void>((resolve) => {
        this.#changed = resolve;
      });
    }
  }

  close(): Promise<void> {
    return new Promise((resolve) => this.port.close(() => resolve()));
  }
}

const haveSocat = needs('socat');

describe.runIf(haveSocat)('on a pseudo-terminal', () => {
  async function openedStand(): Promise<{ stand: Stand; terminal: PseudoTerminal }> {
    const { stand } = setUp();
    const terminal = await openPseudoTerminal(stand);
    const pacing = pace(stand);
    onTestFinished(async () => {
      await pacing.stop();
      await terminal.close();
    });
    return { stand, terminal };
  }

  it('the real driver talks to the real firmware: it asks, arms, starts and stops', async () => {
    const { stand, terminal } = await openedStand();
    const host = await HostPort.open(terminal.path);
    host.port.write(wireLine('1 id'));
    await host.until(/I \d+ catchbench-stand proto=1 .*\r\n/);
    host.port.write(wireLine('2 arm motor 100'));
    const [, key] = await host.until(/A \d+ 2 ok (\d+)\*/);
    host.port.write(wireLine(`3 go ${key}`));
    await host.until(/R \d+ .* turning - 01 .*\r\n/);
    expect(stand.board.motor).toBe(true);
    host.port.write('!');
    await host.until(/R \d+ .* halted host 00 .*\r\n/);
    expect(stand.board.motor).toBe(false);
    await host.close();
  });

  it('what the board says while nobody listens is lost, and the port opens again', async () => {
    const { stand, terminal } = await openedStand();
    for (let opening = 0; opening < 3; opening++) {
      const before = stand.seconds;
      while (stand.seconds < before + 0.3) await new Promise((resolve) => setImmediate(resolve));
      const host = await openAgain(terminal.path);
      const [, microseconds] = await host.until(/R \d+ (\d+) .*\r\n/);
      // The first reading that comes is not an old one: 50 ms at the most from the opening.
      expect(Number(microseconds) / 1e6).toBeGreaterThan(before + 0.25);
      await host.close();
    }
  });

  it('a closed one leaves nothing behind, and another may take the same path', async () => {
    const { stand } = setUp();
    const path = join(mkdtempSync(join(tmpdir(), 'catchbench-test-')), 'stand');
    for (let round = 0; round < 2; round++) {
      const terminal = await openPseudoTerminal(stand, path);
      expect(existsSync(path)).toBe(true);
      await terminal.close();
      expect(existsSync(path)).toBe(false);
    }
  });

  it('does not take a path that is in use', async () => {
    const path = join(mkdtempSync(join(tmpdir(), 'catchbench-test-')), 'stand');
    writeFileSync(path, '');
    await expect(openPseudoTerminal(setUp().stand, path)).rejects.toThrow('exists already');
  });
});

/** The port is away for a moment after each closing, as a cable that is being plugged in again. */
async function openAgain(path: string): Promise<HostPort> {
  for (;;) {
    try {
      return await HostPort.open(path);
    } catch {
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  }
}

describe('the command', () => {
  const running = new Set<ChildProcessWithoutNullStreams>();
  afterEach(() => {
    for (const child of running) child.kill('SIGKILL');
    running.clear();
  });

  function command(args: string[], env: NodeJS.ProcessEnv = process.env) {
    const child = spawn(process.execPath, [projectFile('server/dist/stand.js'), ...args], { env });
    running.add(child);
    const output = { stdout: '', stderr: '' };
    for (const name of ['stdout', 'stderr'] as const) {
      child[name].on('data', (bytes: Buffer) => {
        output[name] += bytes;
      });
    }
    const ended = new Promise<{ code: number | null } & typeof output>((resolve) =>
      child.once('close', (code) => resolve({ code, ...output })),
    );
    return { child, ended };
  }

  const firstLine = (child: ChildProcessWithoutNullStreams): Promise<string> =>
    new Promise((resolve) => createInterface(child.stdout).once('line', resolve));

  it.runIf(haveSocat).each(['SIGINT', 'SIGTERM'] as const)(
    'prints the path, serves a driver there and ends cleanly on %s',
    async (signal) => {
      const { child, ended } = command(['--speed', '2', '--cells', '6', '--seed', '4']);
      const path = await firstLine(child);
      const host = await HostPort.open(path);
      host.port.write(wireLine('1 id'));
      await host.until(/I \d+ catchbench-stand .* settings=ok .* cells=6 .*\r\n/);
      await host.close();
      child.kill(signal);
      expect(await ended).toMatchObject({ code: 0, stderr: '' });
      expect(existsSync(path)).toBe(false);
    },
  );

  it('explains itself', async () => {
    const { code, stdout } = await command(['--help']).ended;
    expect(code).toBe(0);
    for (const option of ['--speed', '--cells', '--seed', '--path']) expect(stdout).toContain(option);
  });

  it.each([
    [['--speed', 'fast'], '--speed takes a number from 0.01 to 100, not "fast".'],
    [['--speed', '0'], '--speed takes a number'],
    [['--cells', '7'], '--cells takes a number from 1 to 6, not "7".'],
    [['--cells', '1.5'], '--cells takes a whole number, not "1.5".'],
    [['--sped', '1'], "Unknown option '--sped'"],
    [['now'], '"now" means nothing here.'],
  ])('refuses %j with a sentence', async (args, sentence) => {
    const { code, stdout, stderr } = await command(args).ended;
    expect(code).toBe(1);
    expect(stdout).toBe('');
    expect(stderr).toContain(sentence);
    expect(stderr).toContain('Usage:');
  });

  it('says what to install where socat is missing', async () => {
    const { code, stderr } = await command([], { ...process.env, PATH: '' }).ended;
    expect(code).toBe(1);
    expect(stderr).toMatch(/^The program socat, .* is not installed\. Install it .*\n$/);
  });
});
