/**
 * USART0 of the ATmega328P, asynchronous, as chapter 19 of its data sheet (Microchip DS40002061B) tells it: transmitter
 * double-buffered, receiver two bytes deep with an overrun flag, flags that survive writes to the control registers.
 *
 * The stock peripheral clears UDRE on interrupt entry, drops a received byte on any write to UCSR0B and wipes UDRE and RXC on
 * any write to UCSR0A, and buffers one byte each way; mending all of that from outside is longer than this file.
 */
import type { BoardCpu } from './cpu.ts';

const UCSR0A = 0xc0;
const UCSR0B = 0xc1;
const UCSR0C = 0xc2;
const UBRR0L = 0xc4;
const UBRR0H = 0xc5;
const UDR0 = 0xc6;

const RXC = 0x80;
const TXC = 0x40;
const UDRE = 0x20;
const DOR = 0x08;
const U2X = 0x02;
const MPCM = 0x01;
const RXEN = 0x10;
const TXEN = 0x08;

const receiveComplete = flag(0x24, RXC, true);
const dataRegisterEmpty = flag(0x26, UDRE, true);
const transmitComplete = flag(0x28, TXC, false);

/** The enable bit in UCSR0B stands where its flag stands in UCSR0A. */
function flag(address: number, mask: number, constant: boolean) {
  return {
    address,
    flagRegister: UCSR0A,
    flagMask: mask,
    enableRegister: UCSR0B,
    enableMask: mask,
    constant,
  };
}

export class Usart {
  /** A byte has left the board: its stop bit ends now. */
  onTransmit: (byte: number) => void = () => {};
  readonly #cpu: BoardCpu;
  /** Byte in the transmit shift register, -1 when idle, and the cycle at which it is out. */
  sending = -1;
  sentAt = 0;
  /** Byte waiting in the transmit buffer, -1 when empty. */
  waiting = -1;
  /** The receive buffer: older byte, newer byte, -1 when empty. */
  received = -1;
  receivedNext = -1;

  constructor(cpu: BoardCpu) {
    this.#cpu = cpu;
    cpu.writeHooks[UCSR0A] = (value) => this.#writeStatus(value);
    cpu.writeHooks[UCSR0B] = (value, old) => this.#writeControl(value, old);
    cpu.writeHooks[UDR0] = (value) => this.#writeData(value);
    cpu.readHooks[UDR0] = () => this.#readData();
    this.reset();
  }

  reset(): void {
    this.#cpu.clearClockEvent(this.#sent);
    this.#cpu.data[UCSR0A] = UDRE;
    this.#cpu.data[UCSR0B] = 0;
    this.#cpu.data[UCSR0C] = 0x06;
    this.sending = this.waiting = this.received = this.receivedNext = -1;
  }

  /** Cycles that one character of 8N1 takes at the divider as set. */
  get cyclesPerCharacter(): number {
    const data = this.#cpu.data;
    const divider = (((data[UBRR0H] as number) & 0x0f) << 8) | (data[UBRR0L] as number);
    return 10 * (divider + 1) * ((data[UCSR0A] as number) & U2X ? 8 : 16);
  }

  /** A byte has arrived: its stop bit ends now. Lost with the overrun flag set when both places are taken. */
  receive(byte: number): void {
    const data = this.#cpu.data;
    if (!((data[UCSR0B] as number) & RXEN)) return;
    if (this.received < 0) this.received = byte;
    else if (this.receivedNext < 0) this.receivedNext = byte;
    else data[UCSR0A] = (data[UCSR0A] as number) | DOR;
    this.#cpu.setInterruptFlag(receiveComplete);
  }

  #writeStatus(value: number): true {
    const kept = (this.#cpu.data[UCSR0A] as number) & ~(U2X | MPCM);
    this.#cpu.data[UCSR0A] = kept | (value & (U2X | MPCM));
    if (value & TXC) this.#cpu.clearInterrupt(transmitComplete);
    return true;
  }

  #writeControl(value: number, old: number): true {
    this.#cpu.data[UCSR0B] = value;
    if (old & RXEN && !(value & RXEN)) {
      this.received = this.receivedNext = -1;
      this.#cpu.clearInterrupt(receiveComplete);
    }
    for (const interrupt of [receiveComplete, dataRegisterEmpty, transmitComplete]) {
      this.#cpu.updateInterruptEnable(interrupt, value);
    }
    return true;
  }

  #writeData(value: number): true {
    const data = this.#cpu.data;
    if (!((data[UCSR0B] as number) & TXEN) || this.waiting >= 0) return true;
    if (this.sending < 0) {
      this.#send(value, this.#cpu.cycles);
    } else {
      this.waiting = value;
      this.#cpu.clearInterrupt(dataRegisterEmpty);
    }
    return true;
  }

  #send(byte: number, from: number): void {
    this.sending = byte;
    this.sentAt = from + this.cyclesPerCharacter;
    this.#cpu.at(this.sentAt, this.#sent);
  }

  readonly #sent = (): void => {
    const byte = this.sending;
    if (this.waiting >= 0) {
      this.#send(this.waiting, this.sentAt);
      this.waiting = -1;
      this.#cpu.setInterruptFlag(dataRegisterEmpty);
    } else {
      this.sending = -1;
      this.#cpu.setInterruptFlag(transmitComplete);
    }
    this.onTransmit(byte);
  };

  #readData(): number {
    const byte = Math.max(this.received, 0);
    this.received = this.receivedNext;
    this.receivedNext = -1;
    this.#cpu.data[UCSR0A] = (this.#cpu.data[UCSR0A] as number) & ~DOR;
    if (this.received < 0) this.#cpu.clearInterrupt(receiveComplete);
    return byte;
  }
}
