/** The serial line of the board, at the pace of the line: bounded queues on the computer's side of it. */
import { type BoardCpu, cyclesPerSecond } from './cpu.ts';
import type { Usart } from './usart.ts';

/** A start bit, eight data bits, a stop bit. */
const bitsPerCharacter = 10;

/** Receivers bear the two sides' speeds to differ by this much, about. */
const mostMismatch = 0.04;

/** Bytes that wait at most, each way: that of a computer's serial driver. */
const queueBytes = 4096;

const nothing = new Uint8Array();

export class SerialLine {
  /** Bytes from the board that nobody took in time. */
  lostFromBoard = 0;
  readonly #cpu: BoardCpu;
  readonly #usart: Usart;
  readonly #toBoard = new Uint8Array(queueBytes);
  /** Bytes ever queued and ever sent to the board. */
  #queued = 0;
  #sent = 0;
  readonly #fromBoard = new Uint8Array(queueBytes);
  #held = 0;
  #baud = 115_200;
  /** Cycle, with fraction, at which the character on its way to the board is complete. */
  #arrival = 0;

  constructor(cpu: BoardCpu, usart: Usart) {
    this.#cpu = cpu;
    this.#usart = usart;
    usart.onTransmit = (byte) => {
      if (this.#held < queueBytes) this.#fromBoard[this.#held++] = misread(byte, this.#boardBaud, this.#baud);
      else this.lostFromBoard++;
    };
  }

  /** Bits a second at which the computer sends and receives; each side reads rubbish when the other's is far from it. */
  set baud(bitsPerSecond: number) {
    this.#baud = bitsPerSecond;
  }

  get #boardBaud(): number {
    return (bitsPerCharacter * cyclesPerSecond) / this.#usart.cyclesPerCharacter;
  }

  /** Bytes that `write` would take at once. */
  get room(): number {
    return queueBytes - this.waiting;
  }

  /** Bytes written and not yet arrived at the board. */
  get waiting(): number {
    return this.#queued - this.#sent;
  }

  /** Sends bytes to the board, one after the other without a gap. Returns how many were taken: as many as there is room for. */
  write(bytes: Uint8Array): number {
    const taken = Math.min(bytes.length, this.room);
    const idle = this.waiting === 0;
    for (let index = 0; index < taken; index++) {
      this.#toBoard[(this.#queued + index) % queueBytes] = bytes[index] as number;
    }
    this.#queued += taken;
    if (idle && taken > 0) {
      this.#arrival = Math.max(this.#arrival, this.#cpu.cycles);
      this.#planArrival();
    }
    return taken;
  }

  /** Forgets what waits to be sent. The character on its way still arrives. */
  discardUnsent(): void {
    this.#queued = Math.min(this.#queued, this.#sent + 1);
  }

  /** Takes what has come from the board since the last call. */
  read(): Uint8Array {
    if (this.#held === 0) return nothing;
    const bytes = this.#fromBoard.slice(0, this.#held);
    this.#held = 0;
    return bytes;
  }

  /** Remembers this moment; the function returned brings it back. */
  save(): () => void {
    const { lostFromBoard } = this;
    const toBoard = this.#toBoard.slice();
    const fromBoard = this.#fromBoard.slice(0, this.#held);
    const counters = [this.#queued, this.#sent, this.#held, this.#arrival] as const;
    return () => {
      this.lostFromBoard = lostFromBoard;
      this.#toBoard.set(toBoard);
      this.#fromBoard.set(fromBoard);
      [this.#queued, this.#sent, this.#held, this.#arrival] = counters;
    };
  }

  #planArrival(): void {
    this.#arrival += (bitsPerCharacter * cyclesPerSecond) / this.#baud;
    this.#cpu.at(Math.ceil(this.#arrival), this.#arrive);
  }

  readonly #arrive = (): void => {
    const byte = this.#toBoard[this.#sent % queueBytes] as number;
    this.#sent++;
    this.#usart.receive(misread(byte, this.#baud, this.#boardBaud));
    if (this.waiting > 0) this.#planArrival();
  };
}

/** What a receiver makes of a character sent at another speed: it looks at the line in the middle of where its bits would be. */
function misread(byte: number, sentBaud: number, readBaud: number): number {
  if (Math.abs(sentBaud / readBaud - 1) < mostMismatch) return byte;
  // Start bit 0, the byte, then the stop bit and the quiet line, both 1.
  const frame = (byte << 1) | 0xfe00;
  let read = 0;
  for (let bit = 0; bit < 8; bit++) {
    const sent = Math.min(Math.floor((bit + 1.5) * (sentBaud / readBaud)), bitsPerCharacter);
    read |= ((frame >> sent) & 1) << bit;
  }
  return read;
}
