/** The shipped firmware on the emulated board, with a wheel, converters and a host that a test moves by hand. */
import { readFileSync } from 'node:fs';
import { Board } from '../../firmware-sim/board/board.ts';
import { EepromStore } from '../../firmware-sim/board/eeprom-store.ts';
import { parseIntelHex } from '../../firmware-sim/board/intel-hex.ts';
import { crc16, eepromFor, type StandSettings } from '../../firmware-sim/board/settings-image.ts';
import { shippedHex } from './tools.ts';

const flash = parseIntelHex(readFileSync(shippedHex, 'latin1'));
const cyclesPerMs = 16_000;
/** Commands follow each other at this distance at least: far below the host's silence limit. */
const BEAT_MS = 250;

/** `text` with its check, as either side ends a line. */
export function sealed(text: string): string {
  return `${text}*${crc16(Buffer.from(text)).toString(16).toUpperCase().padStart(4, '0')}`;
}

/** A line from the board, check verified and taken off. */
export interface Line {
  ms: number;
  fields: string[];
}

export interface StandOptions {
  settings?: Partial<StandSettings>;
  /** Instead of settings: the whole EEPROM. */
  eeprom?: Uint8Array;
  /** Values of the converters, one each. */
  values?: number[];
  /** Conversions a second of each converter; all 80 with a spread of ±2 % when left out. 0: never ready. */
  hertz?: number[];
  /** Instead of `hertz`: seconds from the conversion at `seconds` to the next. */
  period?: (cell: number, seconds: number) => number;
}

export class Stand {
  readonly board: Board;
  readonly eeprom: EepromStore;
  readonly lines: Line[] = [];
  /** Milliseconds at which the motor output changed. */
  readonly motorChanges: { on: boolean; ms: number; cycle: number }[] = [];
  values: number[];
  #text = '';
  #tag = 0;

  constructor(options: StandOptions = {}) {
    const cells = options.settings?.cells ?? options.values?.length ?? 1;
    const values = options.values ?? Array.from({ length: cells }, (_, cell) => 100_000 * (cell + 1) + 7);
    const hertz = options.hertz ?? values.map((_, cell) => 80 * (1 + 0.008 * (cell - 2.5)));
    this.values = values;
    this.eeprom = new EepromStore(options.eeprom ?? eepromFor({ cells, direction: 0, ...options.settings }));
    this.board = new Board({
      flash,
      eeprom: this.eeprom,
      source: {
        cells: values.length,
        conversionPeriod: (cell) =>
          options.period?.(cell, this.board?.seconds ?? 0) ?? (hertz[cell]! > 0 ? 1 / hertz[cell]! : 1e9),
        convert: (cell) => this.values[cell]!,
      },
    });
    this.board.setWheelAt(0, 0, 0);
    this.board.onMotor = (on, cycle) => this.motorChanges.push({ on, ms: cycle / cyclesPerMs, cycle });
  }

  get ms(): number {
    return this.board.cpu.cycles / cyclesPerMs;
  }

  /** Runs on, collecting the board's lines. */
  run(ms: number): this {
    const { cpu } = this.board;
    const end = cpu.cycles + Math.ceil(ms * cyclesPerMs);
    while (cpu.cycles < end) {
      this.board.run(Math.min(end, cpu.cycles + cyclesPerMs));
      this.#collect();
    }
    return this;
  }

  /** Runs on with a host that keeps beating. */
  runWithHost(ms: number): this {
    for (let left = ms; left > 0; left -= BEAT_MS) {
      this.send(sealed(`${this.#nextTag()} beat`));
      this.run(Math.min(left, BEAT_MS));
    }
    return this;
  }

  send(text: string, end = '\n'): void {
    this.board.serial.write(Buffer.from(text + end, 'latin1'));
  }

  /** Sends a command and waits for its answer: what stands after the tag. */
  command(text: string, patienceMs = 800): string {
    const tag = this.#nextTag();
    const from = this.lines.length;
    this.send(sealed(`${tag} ${text}`));
    for (const end = this.ms + patienceMs; this.ms < end; ) {
      this.run(1);
      const answer = this.lines
        .slice(from)
        .find(({ fields }) => fields[0] === 'A' && fields[2] === String(tag));
      if (answer) return answer.fields.slice(3).join(' ');
    }
    throw new Error(`no answer to ${text}`);
  }

  /** Arms and goes; the motor turns. */
  start(mode: 'motor' | 'hand', pulses: number): void {
    const key = /^ok (\d+)$/.exec(this.command(`arm ${mode} ${pulses}`))![1]!;
    const answer = this.command(`go ${key}`);
    if (answer !== 'ok') throw new Error(`go: ${answer}`);
  }

  /** Plans wheel pulses from now on: each first high, then low. Returns how long they take, in milliseconds. */
  pulses(count: number, hertz: number, b: 0 | 1 = 0): number {
    const period = 16_000_000 / hertz;
    const start = this.board.cpu.cycles + 100;
    for (let n = 0; n < count; n++) {
      this.board.setWheelAt(Math.round(start + n * period), 1, b);
      this.board.setWheelAt(Math.round(start + (n + 0.5) * period), 0, b);
    }
    return (1000 * count) / hertz + 1;
  }

  /** The newest line of a kind. */
  last(kind: string): string[] {
    return this.of(kind).at(-1)!.fields;
  }

  of(kind: string): Line[] {
    return this.lines.filter(({ fields }) => fields[0] === kind);
  }

  /** State and reason as the newest reading has them. */
  get state(): string {
    return this.last('R').slice(6, 8).join(' ');
  }

  /** A figure of the newest health line. */
  health(name: string): number {
    this.command('health');
    const field = this.last('S').find((text) => text.startsWith(`${name}=`))!;
    return Number(field.slice(name.length + 1));
  }

  #nextTag(): number {
    this.#tag = (this.#tag % 65_535) + 1;
    return this.#tag;
  }

  #collect(): void {
    this.#text += Buffer.from(this.board.serial.read()).toString('latin1');
    const rows = this.#text.split('\r\n');
    this.#text = rows.pop()!;
    for (const row of rows) {
      if (row !== sealed(row.slice(0, -5))) continue; // cut off by a reset
      this.lines.push({ ms: this.ms, fields: row.slice(0, -5).split(' ') });
    }
  }
}
