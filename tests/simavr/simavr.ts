/** The shipped .hex in simavr: `firmware-sim/simavr`, built once for each use of this file. */
import { type ChildProcessWithoutNullStreams, execFileSync, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { projectFile } from '../../firmware-sim/project-file.ts';
import { shippedHex } from '../firmware/tools.ts';
import { type Stimulus, stimulusLine, type Told } from './stimuli.ts';

const mostOutput = 1 << 26;

/** Outputs of the board at a moment, and the cycle of each fitted converter's next conversion. */
export interface Outputs {
  cycle: number;
  motor: boolean;
  lamp: boolean;
  due: number[];
}

export class Simavr {
  readonly #folder: string;
  readonly #program: string;

  constructor() {
    this.#folder = mkdtempSync(join(tmpdir(), 'catchbench-simavr-'));
    this.#program = join(this.#folder, 'dist/simavr-stand');
    execFileSync('make', ['-s', '-C', projectFile('firmware-sim/simavr'), `OUT=${this.#folder}`]);
  }

  /** Runs a whole list of stimuli. */
  run(stimuli: readonly Stimulus[], eeprom: Uint8Array): Told {
    const { stdout, stderr, status } = spawnSync(this.#program, this.#arguments(eeprom), {
      input: stimuli.map(stimulusLine).join(''),
      maxBuffer: mostOutput,
      encoding: 'latin1',
    });
    if (status !== 0) throw new Error(`simavr-stand ended with ${status}: ${stderr}`);
    return told(stdout.split('\n'));
  }

  /** Starts one whose serial line is a pseudo-terminal, and which is moved on by `live.step`. */
  async live(eeprom: Uint8Array): Promise<LiveSimavr> {
    const child = spawn(this.#program, [...this.#arguments(eeprom), 'pty']);
    const live = new LiveSimavr(child);
    await live.ready;
    return live;
  }

  dispose(): void {
    rmSync(this.#folder, { recursive: true, force: true });
  }

  #arguments(eeprom: Uint8Array): string[] {
    const image = join(this.#folder, 'eeprom.bin');
    writeFileSync(image, eeprom);
    return [shippedHex, image];
  }
}

/** A running one: stimuli go in, and each `run` among them is answered. */
export class LiveSimavr {
  /** Resolves with the first line: the terminal's path. */
  readonly ready: Promise<void>;
  path = '';
  /** Every line of the board so far. */
  readonly lines: string[] = [];
  readonly #child: ChildProcessWithoutNullStreams;
  #answer: (outputs: Outputs) => void = () => {};
  #fail: (error: Error) => void = () => {};

  constructor(child: ChildProcessWithoutNullStreams) {
    this.#child = child;
    this.ready = new Promise((resolve, reject) => {
      child.once('error', reject);
      createInterface(child.stdout).on('line', (line) => {
        if (line.startsWith('pty ')) {
          this.path = line.slice(4);
          resolve();
        } else this.#take(line);
      });
    });
    child.once('exit', (code) => this.#fail(new Error(`simavr-stand ended with ${code}`)));
    child.stdin.on('error', () => {}); // told by `exit`
  }

  /** Sends stimuli, the last of which must be a `run`, and waits for its answer. */
  step(stimuli: readonly Stimulus[]): Promise<Outputs> {
    return new Promise((resolve, reject) => {
      this.#answer = resolve;
      this.#fail = reject;
      this.#child.stdin.write(stimuli.map(stimulusLine).join(''));
    });
  }

  async end(): Promise<void> {
    const gone = new Promise((resolve) => this.#child.once('exit', resolve));
    this.#fail = () => {};
    this.#child.stdin.end();
    await gone;
  }

  #take(line: string): void {
    const [cycle, kind, ...rest] = line.split(' ');
    if (kind === 'line') this.lines.push(rest.join(' '));
    if (kind !== 'at') return;
    const [motor, lamp, ...due] = rest;
    this.#answer({
      cycle: Number(cycle),
      motor: motor === '1',
      lamp: lamp === '1',
      due: due.map((each) => (each === '-' ? Number.POSITIVE_INFINITY : Number(each))),
    });
  }
}

function told(output: readonly string[]): Told {
  const result: Told = { lines: [], motor: [] };
  for (const line of output) {
    const [cycle, kind, ...rest] = line.split(' ');
    if (kind === 'line') result.lines.push(rest.join(' '));
    else if (kind === 'motor') result.motor.push({ cycle: Number(cycle), on: rest[0] === '1' });
  }
  return result;
}
