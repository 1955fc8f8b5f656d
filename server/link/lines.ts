/** The longest line a board sends, its check included and its line end not. */
export const longestBoardLine = 160;

const lineFeed = 0x0a;
const carriageReturn = 0x0d;

/**
 * Puts bytes, however they were cut up, together into whole lines of printable ASCII. Holds at most one line: a longer one, or one
 * with any other byte in it, is dropped whole and counted by its reason.
 */
export class LineAssembler {
  readonly #dropped: { long: number; notAscii: number };
  readonly #line = Buffer.alloc(longestBoardLine + 1);
  #length = 0;
  #fault: 'long' | 'notAscii' | null = null;

  /** @param dropped where dropped lines are counted: longer than 160 characters, or with a byte outside 0x20 to 0x7E. */
  constructor(dropped = { long: 0, notAscii: 0 }) {
    this.#dropped = dropped;
  }

  /** Takes the next bytes and calls `deliver` with each line they complete, without its line end. Empty lines are passed over. */
  push(bytes: Uint8Array, deliver: (line: string) => void): void {
    for (const byte of bytes) {
      if (byte === lineFeed) this.#finish(deliver);
      else if (this.#fault === null) this.#take(byte);
    }
  }

  #take(byte: number): void {
    // Room for one more than a line, so that the carriage return of the longest one fits.
    if (this.#length > longestBoardLine) this.#fault = 'long';
    else if ((byte < 0x20 || byte > 0x7e) && byte !== carriageReturn) this.#fault = 'notAscii';
    else this.#line[this.#length++] = byte;
  }

  #finish(deliver: (line: string) => void): void {
    let length = this.#length;
    let fault = this.#fault;
    this.#length = 0;
    this.#fault = null;
    if (length > 0 && this.#line[length - 1] === carriageReturn) length--;
    if (fault === null && length > longestBoardLine) fault = 'long';
    // A carriage return anywhere but before the line feed is a foreign byte like any other.
    const inner = this.#line.indexOf(carriageReturn);
    if (fault === null && inner >= 0 && inner < length) fault = 'notAscii';
    if (fault !== null) this.#dropped[fault]++;
    else if (length > 0) deliver(this.#line.toString('latin1', 0, length));
  }
}
