/** The serial line of the board, at the pace of the line: bounded queues on the computer's side of it. */
import { type BoardCpu, cyclesPerSecond } from './cpu.ts';
import type { Usart } from './usart.ts';

/** A start bit, eight data bits, a stop bit. */
const bitsPerCharacter = 10;

/** Bytes that wait at most, each way: that of a computer's serial driver. */
const queueBytes = 4096;

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
  #cyclesPerCharacter = 0;
  /** Cycle, with fraction, at which the character on its way to the board is complete. */
  #arrival = 0;

  constructor(cpu: BoardCpu, usart: Usart) {
    this.#cpu = cpu;
    this.#usart = usart;
    this.baud = 115_200;
    usart.onTransmit = (byte) => {
      if (this.#held < queueBytes) this.#fromBoard[this.#held++] = byte;
      else this.lostFromBoard++;
    };
  }

  /** Bits a second that the computer sends. */
  set baud(bitsPerSecond: number) {
    this.#cyclesPerCharacter = (bitsPerCharacter * cyclesPerSecond) / bitsPerSecond;
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
    this.#arrival += this.#cyclesPerCharacter;
    this.#cpu.at(Math.ceil(this.#arrival), this.#arrive);
  }

  readonly #arrive = (): void => {
    const byte = this.#toBoard[this.#sent % queueBytes] as number;
    this.#sent++;
    this.#usart.receive(byte);
    if (this.waiting > 0) this.#planArrival();
  };
}
