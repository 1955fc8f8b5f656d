/** Growing bytes with numbers of varying length: seven bits a byte, least first, the top bit set while more follow. */
export class ByteWriter {
  #bytes = Buffer.allocUnsafe(1024);
  #length = 0;

  byte(value: number): void {
    this.#room(1);
    this.#bytes[this.#length++] = value;
  }

  /** A whole number from 0 to 2^53 - 1. */
  whole(value: number): void {
    this.#room(8);
    let rest = value;
    while (rest >= 0x80) {
      this.#bytes[this.#length++] = (rest % 0x80) | 0x80;
      rest = Math.floor(rest / 0x80);
    }
    this.#bytes[this.#length++] = rest;
  }

  /** A whole number of either sign, at most 2^52 - 1 away from 0: small ones take few bytes. */
  signed(value: number): void {
    this.whole(value < 0 ? -2 * value - 1 : 2 * value);
  }

  double(value: number): void {
    this.#room(8);
    this.#length = this.#bytes.writeDoubleLE(value, this.#length);
  }

  text(value: string): void {
    const bytes = Buffer.from(value, 'utf8');
    this.whole(bytes.length);
    this.#room(bytes.length);
    bytes.copy(this.#bytes, this.#length);
    this.#length += bytes.length;
  }

  /** A copy of all so far. */
  bytes(): Uint8Array {
    return Uint8Array.from(this.#bytes.subarray(0, this.#length));
  }

  #room(more: number): void {
    if (this.#length + more <= this.#bytes.length) return;
    const grown = Buffer.allocUnsafe(2 * (this.#length + more));
    this.#bytes.copy(grown, 0, 0, this.#length);
    this.#bytes = grown;
  }
}

/** Reads what a `ByteWriter` wrote, in the same order. Throws RangeError beyond the end. */
export class ByteReader {
  readonly #bytes: Buffer;
  #at = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  get left(): number {
    return this.#bytes.length - this.#at;
  }

  byte(): number {
    if (this.left < 1) throw new RangeError('The bytes end too early.');
    return this.#bytes[this.#at++]!;
  }

  whole(): number {
    let value = 0;
    for (let weight = 1; weight <= 2 ** 49; weight *= 0x80) {
      const next = this.byte();
      value += (next & 0x7f) * weight;
      if (next < 0x80) return value;
    }
    throw new RangeError('A number has no end.');
  }

  signed(): number {
    const value = this.whole();
    return value % 2 === 0 ? value / 2 : -(value + 1) / 2;
  }

  double(): number {
    const value = this.#bytes.readDoubleLE(this.#at);
    this.#at += 8;
    return value;
  }

  text(): string {
    const length = this.whole();
    if (length > this.left) throw new RangeError('The bytes end too early.');
    this.#at += length;
    return this.#bytes.toString('utf8', this.#at - length, this.#at);
  }
}
