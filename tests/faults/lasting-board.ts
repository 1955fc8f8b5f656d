import { openSync, readFileSync, writeFileSync, writeSync } from 'node:fs';
import { byHand } from '../../firmware-sim/drill/scenarios.ts';
import type { DrillTruth } from '../../firmware-sim/drill/truth.ts';
import { SpeakingBoard } from './records-shop.ts';

/** Milliseconds since 1970, on a clock that goes on from one process to the next. */
const now = (): number => performance.timeOrigin + performance.now();

type Done = [seconds: number, what: 'arm' | 'go' | 'stop', ...words: string[]];

/**
 * A board that outlives the process which talks to it: all that was done to it stands in a file, from which the next process makes the same board
 * again, as it is by now. The person at the wheel turns from `go` on, whatever the process does.
 */
export class LastingBoard {
  readonly #speaking: SpeakingBoard;
  readonly #beganAt: number;
  readonly #speed: number;
  readonly #file: number;

  /** A board just powered up, for this run. */
  static begin(path: string, runId: string, seed: string, speed: number): LastingBoard {
    const beganAt = now();
    writeFileSync(path, `${JSON.stringify([runId, seed, beganAt])}\n`);
    return new LastingBoard(path, seed, beganAt, speed);
  }

  /** The board of this run as it is now; what it said since nobody heard. */
  static findAgain(path: string, runId: string, speed: number): LastingBoard {
    const lines = readFileSync(path, 'utf8').split('\n').slice(0, -1);
    const [first, ...rest] = lines.map((line) => JSON.parse(line));
    const [id, seed, beganAt] = first as [string, string, number];
    if (id !== runId) throw new Error(`The board was made for ${id}, not for ${runId}.`);
    const board = new LastingBoard(path, seed, beganAt, speed);
    const done = rest as Done[];
    while (board.due || done.length > 0) {
      while (done.length > 0 && done[0]![0] <= board.#speaking.seconds) board.#do(done.shift()!);
      board.line();
    }
    return board;
  }

  private constructor(path: string, seed: string, beganAt: number, speed: number) {
    this.#speaking = new SpeakingBoard(seed, byHand);
    this.#beganAt = beganAt;
    this.#speed = speed;
    this.#file = openSync(path, 'a');
  }

  /** Whether its next line has been sent by now. */
  get due(): boolean {
    return this.#speaking.seconds < ((now() - this.#beganAt) / 1000) * this.#speed;
  }

  /** Its own seconds at its newest line. */
  get seconds(): number {
    return this.#speaking.seconds;
  }

  get truth(): DrillTruth {
    return this.#speaking.drill.truth;
  }

  line(): string {
    return this.#speaking.line();
  }

  identity(): string {
    return this.#speaking.identity();
  }

  arm(mode: 'motor' | 'hand', pulses: number): string {
    return this.#note('arm', mode, String(pulses));
  }

  go(key: string): void {
    this.#note('go', key);
  }

  stop(): void {
    this.#note('stop');
  }

  #note(what: Done[1], ...words: string[]): string {
    const done: Done = [this.#speaking.seconds, what, ...words];
    writeSync(this.#file, `${JSON.stringify(done)}\n`);
    return this.#do(done);
  }

  #do([, what, ...words]: Done): string {
    const { board, drill } = this.#speaking;
    if (what === 'arm') return board.arm(words[0] as 'motor' | 'hand', Number(words[1])).word;
    if (what === 'stop') return board.stop().word;
    const answer = board.go(words[0]!);
    if (answer.ok) drill.turnByHand();
    return answer.word;
  }
}
