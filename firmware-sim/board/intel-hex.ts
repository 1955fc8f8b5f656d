/** Reads Intel HEX text (Intel, Hexadecimal Object File Format Specification, revision A, 1988) into a flash image. */

const recordType = {
  data: 0,
  endOfFile: 1,
  segmentAddress: 2,
  startSegment: 3,
  linearAddress: 4,
  startLinear: 5,
} as const;

/** Flash of the ATmega328P: 32 KiB. */
export const flashBytes = 0x8000;

/** The text is not a flash image; the message says in which line and why. */
export class HexError extends Error {
  constructor(line: number, why: string) {
    super(`Line ${line} of the firmware's hex file ${why}. The file is damaged: build or fetch it again.`);
    this.name = 'HexError';
  }
}

/**
 * The flash image in Intel HEX text, unused bytes 0xFF as in erased flash.
 * @throws HexError for a bad record, a wrong checksum, an address beyond the flash or a missing end record.
 */
export function parseIntelHex(text: string): Uint8Array {
  const flash = new Uint8Array(flashBytes).fill(0xff);
  let base = 0;
  const lines = text.split(/\r?\n/);
  for (const [index, line] of lines.entries()) {
    if (line === '') continue;
    const { type, address, data } = parseRecord(line, index + 1);
    if (type === recordType.endOfFile) return flash;
    if (type === recordType.segmentAddress) base = bigEndian(data) << 4;
    else if (type === recordType.linearAddress) base = bigEndian(data) << 16;
    else if (type === recordType.data) {
      if (base + address + data.length > flashBytes) throw new HexError(index + 1, 'lies beyond the flash');
      flash.set(data, base + address);
    }
  }
  throw new HexError(lines.length, 'is the last one, yet no end record came');
}

function parseRecord(line: string, number: number): { type: number; address: number; data: Uint8Array } {
  if (!/^:([0-9A-Fa-f]{2}){5,}$/.test(line)) throw new HexError(number, 'is no hex record');
  const bytes = Uint8Array.from(line.slice(1).match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
  const [count = 0, high = 0, low = 0, type = 0] = bytes;
  if (bytes.length !== count + 5) throw new HexError(number, 'is too long or too short');
  if (bytes.reduce((sum, byte) => (sum + byte) & 0xff, 0) !== 0)
    throw new HexError(number, 'has a wrong checksum');
  if (type > recordType.startLinear) throw new HexError(number, 'is of an unknown type');
  return { type, address: (high << 8) | low, data: bytes.subarray(4, 4 + count) };
}

function bigEndian(data: Uint8Array): number {
  return data.reduce((value, byte) => (value << 8) | byte, 0);
}
