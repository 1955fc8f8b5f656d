/** A host as plain as can be, written from `hardware-notes/protocol.md` alone: it speaks to a stand in emulated time. */
import { crc16 } from '../../firmware-sim/board/settings-image.ts';
import type { Stand } from '../../firmware-sim/stand.ts';

const answerSeconds = 0.5;
const beatMilliseconds = 250;

export interface Reading {
  sequence: number;
  microseconds: number;
  forward: number;
  backward: number;
  state: string;
  why: string;
  flags: number;
  counts: (number | null)[];
}

/** A line with its check, as it goes over the wire to the board. */
export function wireLine(text: string): Uint8Array {
  const bytes = new TextEncoder().encode(text);
  const check = crc16(bytes).toString(16).toUpperCase().padStart(4, '0');
  return new TextEncoder().encode(`${text}*${check}\n`);
}

export class Talk {
  /** Every good line since the start or the last `forget`, check taken off. */
  lines: string[] = [];
  /** Lines whose check was wrong. */
  damaged = 0;
  /** All bytes from the board. */
  readonly bytes: number[] = [];
  readonly #stand: Stand;
  #tag = 0;
  #partial = '';
  #stopBeating = () => {};

  constructor(stand: Stand) {
    this.#stand = stand;
    stand.onBytes((bytes) => this.#receive(bytes));
  }

  /** Sends a command with a new tag and returns the tag. */
  send(command: string): number {
    this.#tag = (this.#tag % 65535) + 1;
    this.#stand.write(wireLine(`${this.#tag} ${command}`));
    return this.#tag;
  }

  /** Sends a command and lets the stand run until it is answered: 'ok', 'ok <detail>' or 'no <word>'. */
  ask(command: string): string {
    const tag = this.send(command);
    const end = this.#stand.seconds + answerSeconds;
    while (this.#stand.seconds < end) {
      this.#stand.advance(0.001);
      const answer = this.answerTo(tag);
      if (answer !== undefined) return answer;
    }
    throw new Error(`No answer to "${command}" within ${answerSeconds} s`);
  }

  answerTo(tag: number): string | undefined {
    const answer = this.of('A').find((fields) => fields[2] === String(tag));
    return answer?.slice(3).join(' ');
  }

  /** Arms and starts, by motor or by hand. */
  turn(pulses: number, drive: 'motor' | 'hand' = 'motor'): void {
    const armed = this.ask(`arm ${drive} ${pulses}`);
    if (!armed.startsWith('ok ')) throw new Error(`Arming was answered "${armed}"`);
    const started = this.ask(`go ${armed.slice(3)}`);
    if (started !== 'ok') throw new Error(`Starting was answered "${started}"`);
  }

  /** Keeps telling the board that the host is alive, in the stand's time, until `fallSilent`. */
  beat(): void {
    this.fallSilent();
    this.send('beat');
    this.#stopBeating = this.#stand.clock.after(beatMilliseconds, () => this.beat());
  }

  fallSilent(): void {
    this.#stopBeating();
  }

  forget(): void {
    this.lines = [];
    this.bytes.length = 0;
  }

  /** Lines of one kind, split into fields. */
  of(kind: string): string[][] {
    return this.lines.map((line) => line.split(' ')).filter(([first]) => first === kind);
  }

  readings(): Reading[] {
    return this.of('R').map((fields) => {
      const [, sequence, microseconds, forward, backward] = fields.map(Number);
      const [, , , , , , state, why, flags, ...counts] = fields;
      return {
        sequence: sequence!,
        microseconds: microseconds!,
        forward: forward!,
        backward: backward!,
        state: state!,
        why: why!,
        flags: Number.parseInt(flags!, 16),
        counts: counts.map((count) => (count === 'x' ? null : Number(count))),
      };
    });
  }

  /** The newest reading. */
  now(): Reading {
    const newest = this.readings().at(-1);
    if (newest === undefined) throw new Error('No reading has come');
    return newest;
  }

  /** What the board last said of its health, as numbers by name. */
  health(): Record<string, number> {
    this.ask('health');
    const pairs = (this.of('S').at(-1) ?? []).slice(2).map((field) => field.split('='));
    return Object.fromEntries(pairs.map(([name, value]) => [name, Number(value)]));
  }

  #receive(bytes: Uint8Array): void {
    this.bytes.push(...bytes);
    const pieces = (this.#partial + Buffer.from(bytes).toString('latin1')).split('\r\n');
    this.#partial = pieces.pop() ?? '';
    // A reset ends the line it may have cut off, so the first thing a board sends is an empty line.
    for (const piece of pieces) if (piece !== '') this.#line(piece);
  }

  #line(line: string): void {
    const text = line.slice(0, -5);
    const check = crc16(Buffer.from(text, 'latin1')).toString(16).toUpperCase().padStart(4, '0');
    if (line === `${text}*${check}`) this.lines.push(text);
    else this.damaged++;
  }
}
