/** Random numbers that are the same each time: a 32-bit linear congruential generator, its upper bits. */
export class Dice {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** A whole number from 0 to below `limit`. */
  below(limit: number): number {
    this.#state = (Math.imul(this.#state, 1664525) + 1013904223) >>> 0;
    return Math.floor((this.#state / 2 ** 32) * limit);
  }

  bytes(length: number): Buffer {
    return Buffer.from(Array.from({ length }, () => this.below(256)));
  }

  /** What a line might be made of: the characters of the protocol, line ends among them. */
  printable(length: number): Buffer {
    const characters = 'RIAEPS 0123456789-*ABCDEFx\r\n';
    return Buffer.from(
      Array.from({ length }, () => characters[this.below(characters.length)]!).join(''),
      'latin1',
    );
  }
}
