/** The check in a terminal of its own, through the real serial driver, against the emulated stand on a pseudo-terminal in another process. */
import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it, onTestFinished } from 'vitest';
import { projectFile } from '../../firmware-sim/project-file.ts';
import { needs } from '../needs.ts';

/** A program that is typed to and read from. */
class Terminal {
  said = '';
  readonly process: ChildProcessWithoutNullStreams;
  readonly ended: Promise<number | null>;
  #changed = () => {};
  #read = 0;

  constructor(args: string[], folder: string) {
    this.process = spawn(process.execPath, [projectFile('server/dist/stand.js'), ...args], {
      env: { ...process.env, CATCHBENCH_DATA: folder },
    });
    for (const stream of [this.process.stdout, this.process.stderr])
      stream.on('data', (bytes: Buffer) => {
        this.said += bytes.toString('utf8');
        this.#changed();
      });
    this.ended = new Promise((resolve) => this.process.on('exit', (code) => resolve(code)));
    this.process.stdin.on('error', () => {});
  }

  /** Waits until something more was said that holds these words; not for ever, and not for one that has ended. */
  async hear(words: string): Promise<void> {
    for (;;) {
      const at = this.said.indexOf(words, this.#read);
      if (at >= 0) {
        this.#read = at + words.length;
        return;
      }
      const giveUp = new AbortController();
      const more = new Promise<true>((resolve) => {
        this.#changed = () => resolve(true);
      });
      const over = pause(60_000, false, { signal: giveUp.signal }).catch(() => false);
      const heard = await Promise.race([more, over, this.ended.then(() => false)]);
      giveUp.abort();
      if (!heard && !this.said.includes(words, this.#read))
        throw new Error(`"${words}" was not said. This was: ${this.said}`);
    }
  }

  type(line: string): void {
    this.process.stdin.write(`${line}\n`);
  }
}

describe.runIf(needs('socat'))('npm run stand -- check --port', () => {
  it('leads through the check by what is typed, with the hands in the other terminal', {
    timeout: 180_000,
  }, async () => {
    const folder = mkdtempSync(join(tmpdir(), 'catchbench-check-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const path = join(folder, 'port');
    const hands = new Terminal(['--path', path, '--seed', '7'], folder);
    onTestFinished(() => void hands.process.kill('SIGINT'));
    await hands.hear(path);
    const check = new Terminal(['check', '--port', path, '--by', 'Kim'], folder);
    onTestFinished(() => void check.process.kill('SIGKILL'));
    const step = async (words: string, ...typed: string[]) => {
      await check.hear(words);
      for (const line of typed) check.type(line);
    };
    await step('Is that the one in front of you?', '');
    await step('Look through the settings', '');
    await step('are watched for', 'skip');
    await step('You will turn it 3 turns FORWARD', '');
    await check.hear('Turn 3 turns forward now');
    hands.type('turn 3');
    await hands.hear('turned');
    check.type('');
    await check.hear('counted 7');
    await step('Now 3 turns BACK', 'skip');
    await step('leave them alone', 'skip');
    await step('Begin empty', 'skip');
    await step('The stop button is tried', '');
    await check.hear('Press the stop button');
    hands.type('press');
    await check.hear('Release the stop button');
    hands.type('release');
    await step('look and listen', '');
    await step('did the horn sound?', 'yes');
    // On a busy machine the board may find the computer silent for too long to let the motor turn: see whole.test.ts.
    await step('Only then answer yes', 'no way', 'skip');
    await check.hear('That means nothing here');
    await check.hear('The check is kept with the records.');
    expect(await check.ended).toBe(2); // steps were left out
    expect(check.said).toContain('Check of the stand bench-1');
    expect(check.said).toContain('by Kim');
    expect(check.said).toMatch(/Stop button: ok\n {2}arm refused 1/);
    expect(check.said).toMatch(/Motor: left out/);
  });

  it('stops what it had set going when the typing ends', { timeout: 60_000 }, async () => {
    const folder = mkdtempSync(join(tmpdir(), 'catchbench-check-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const path = join(folder, 'port');
    const hands = new Terminal(['--path', path, '--seed', '7'], folder);
    onTestFinished(() => void hands.process.kill('SIGINT'));
    await hands.hear(path);
    const check = new Terminal(['check', '--port', path], folder);
    await check.hear('Is that the one in front of you?');
    check.process.stdin.end();
    expect(await check.ended).toBe(1);
    expect(check.said).toContain('ended before its last step');
  });

  it.each([
    [['check'], 'Say which port'],
    [['check', '--port', '/dev/x', '--emulated'], 'not both'],
    [['chek'], 'means nothing here'],
    [['--port', '/dev/x'], 'belongs to the check'],
  ])('refuses %j in a sentence', async (args, words) => {
    const program = new Terminal(args, tmpdir());
    expect(await program.ended).toBe(1);
    expect(program.said).toContain(words);
  });
});
