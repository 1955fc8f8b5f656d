import type { Clock } from '../../server/clock.ts';
import { crc16 } from '../../server/link/crc16.ts';
import type { BoardState, EndReason } from '../../server/link/readings.ts';
import { checked } from './board-lines.ts';

export interface FakeBoardOptions {
  clock: Clock;
  name?: string;
  cells?: number;
  protocol?: number;
  boot?: number;
}

const readingMillis = 12.5;
const readingsPerHealth = 160;

/**
 * A board that says and understands what hardware-notes/protocol.md has, without a wheel or a converter: its readings stand still. Scripted
 * faults: `mute` (says nothing), `deafTo` (leaves commands unanswered).
 */
export class FakeBoard {
  readonly #clock: Clock;
  protocol: number;
  readonly cells: number;
  name: string;
  boot: number;
  mute = false;
  /** Says all but who it is. */
  shy = false;
  /** Commands that it takes and does not answer. */
  deafTo = new Set<string>();
  /** Every command line that it took, without tag and check, and `!`. */
  readonly taken: string[] = [];
  /** Told of each. */
  onTaken: (words: string) => void = () => {};
  state: BoardState = 'idle';
  why: EndReason = '-';
  /** Where its bytes go; nowhere while no cable is in. */
  onText: (text: string) => void = () => {};
  settings: Map<string, string>;
  #sequence = 0;
  #bootedAt: number;
  #heardAt = Number.NEGATIVE_INFINITY;
  #key = 100;
  #line = '';
  #readings = 0;
  #cancel = () => {};

  constructor({ clock, name = 'bench', cells = 2, protocol = 1, boot = 7 }: FakeBoardOptions) {
    this.#clock = clock;
    this.protocol = protocol;
    this.name = name;
    this.cells = cells;
    this.boot = boot;
    this.#bootedAt = clock.now();
    this.settings = new Map([
      ['name', name],
      ['ppt', '24'],
      ['debounce', '2500'],
      ['cells', String(cells)],
      ['direction', '1'],
      ['warn', '48'],
      ...[1, 2, 3, 4, 5, 6].map((n): [string, string] => [`slope${n}`, String(5_000_000 + n)]),
      ...[1, 2, 3, 4, 5, 6].map((n): [string, string] => [`zero${n}`, String(-1000 * n)]),
    ]);
    this.#tick();
  }

  /** Ends its readings, so that a test leaves no timer behind. */
  off(): void {
    this.#cancel();
  }

  /** As after the reset line: counters from 0, the motor off, and it says who it is. */
  reset(): void {
    this.boot = (this.boot + 1) % 65536;
    this.#sequence = 0;
    this.#bootedAt = this.#clock.now();
    this.state = 'idle';
    this.why = '-';
    this.#line = '';
    this.introduce();
  }

  introduce(): void {
    if (this.shy) return;
    const { name, boot, cells } = this;
    this.say(
      `I SEQ catchbench-stand proto=${this.protocol} fw=1.0.0 name=${name} settings=ok boot=${boot} reset=E ppt=24 cells=${cells} direction=1 debounce=2500`,
    );
  }

  /** Says a line; SEQ stands for the next sequence number. Lost where it is mute or no cable is in. */
  say(text: string): void {
    const sequence = this.#sequence;
    this.#sequence = (this.#sequence + 1) % 65536;
    if (!this.mute) this.onText(`${checked(text.replace('SEQ', String(sequence)))}\r\n`);
  }

  /** Jumps ahead as after lines that were lost. */
  skip(lines: number): void {
    this.#sequence = (this.#sequence + lines) % 65536;
  }

  /** Bytes from the host. */
  receive(bytes: Uint8Array): void {
    for (const character of Buffer.from(bytes).toString('latin1')) {
      if (character === '!') this.#stop();
      else if (character === '\n') this.#takeLine();
      else this.#line += character;
    }
  }

  #stop(): void {
    this.#note('!');
    this.#end('host');
  }

  #note(words: string): void {
    this.taken.push(words);
    this.onTaken(words);
  }

  #end(why: EndReason): void {
    if (this.state !== 'armed' && this.state !== 'turning') return;
    this.state = 'halted';
    this.why = why;
  }

  #takeLine(): void {
    const line = this.#line.replace(/\r$/, '');
    this.#line = '';
    const [, tag, command = '', check] = /^(\d+) (.*)\*([0-9A-F]{4})$/.exec(line) ?? [];
    if (check === undefined || crc16(`${tag} ${command}`) !== Number.parseInt(check, 16)) return;
    this.#heardAt = this.#clock.now();
    this.#note(command);
    const words = command.split(' ');
    if (!this.deafTo.has(words[0]!)) this.say(`A SEQ ${tag} ${this.#obey(words)}`);
  }

  #obey([command, ...rest]: string[]): string {
    switch (command) {
      case 'id':
        this.introduce();
        return 'ok';
      case 'get':
        for (const [key, value] of this.settings) this.say(`P SEQ ${key} ${value}`);
        return 'ok';
      case 'set':
        this.settings.set(rest[0]!, rest[1]!);
        return 'ok';
      case 'arm':
        if (this.state === 'turning') return 'no state';
        this.state = 'armed';
        this.#key++;
        return `ok ${this.#key}`;
      case 'go':
        if (this.state !== 'armed') return 'no state';
        if (rest[0] !== String(this.#key)) return 'no key';
        this.state = 'turning';
        return 'ok';
      case 'stop':
        this.#end('host');
        return 'ok';
      default:
        return 'ok';
    }
  }

  #tick(): void {
    this.#cancel = this.#clock.after(readingMillis, () => this.#tick());
    const micros = Math.round((this.#clock.now() - this.#bootedAt) * 1000) % 2 ** 32;
    const flags = this.#clock.now() - this.#heardAt > 1000 ? '08' : '00';
    const counts = Array.from({ length: this.cells }, (_, cell) => 1000 * (cell + 1));
    if (micros > 0)
      this.say(`R SEQ ${micros} 0 0 9999999 ${this.state} ${this.why} ${flags} ${counts.join(' ')}`);
    if (++this.#readings % readingsPerHealth === 0) this.#health();
  }

  #health(): void {
    const zeros = ['rxlost', 'rxbad', 'txlost', 'late', 'desync', 'bounced'].map((name) => `${name}=0`);
    this.say(`S SEQ up=2 loop=170 worst=1400 ${zeros.join(' ')} stack=800 boot=${this.boot} reset=E`);
  }
}
