import { crc32, deflateRawSync, inflateRawSync } from 'node:zlib';
import { checkDigits, crc16 } from '../link/crc16.ts';
import { ByteReader, ByteWriter } from './bytes.ts';
import { readColumn, readTimes, writeColumn, writeTimes } from './columns.ts';
import type { JournalEntry } from './types.ts';

/**
 * Entries of a journal, packed: lines of one kind are taken apart into columns, because from one line to the next most fields stay or grow by
 * little, and the board's check is left out where it can be reckoned again. What comes out is what went in, to the byte: damaged lines, whose
 * check is wrong, are kept as they are, and a block that could not come out right is kept as plain JSON.
 */

const formats = { json: 0, columns: 1, deflated: 2 } as const;
const entryKinds = ['line', 'sent', 'input'] as const;
const checkedLine = 3;
/** Nothing that we packed is larger; a damaged or made-up block might claim to be. */
const greatestBlock = 64 * 1024 * 1024;

/** Entries of one shape: same kind, same first word, same number of fields. */
interface Shape {
  kind: number;
  rows: string[][];
}

function fieldsOf({ kind, text }: JournalEntry): { kind: number; fields: string[] } {
  if (kind === 'line') {
    const end = text.length - 5;
    if (end > 0 && text[end] === '*' && text.slice(end + 1) === checkDigits(crc16(text, end))) {
      return { kind: checkedLine, fields: text.slice(0, end).split(' ') };
    }
  }
  return { kind: entryKinds.indexOf(kind), fields: [text] };
}

function textOf(kind: number, fields: readonly string[]): string {
  const text = fields.join(' ');
  return kind === checkedLine ? `${text}*${checkDigits(crc16(text))}` : text;
}

function writeShapes(writer: ByteWriter, entries: readonly JournalEntry[]): void {
  const shapes = new Map<string, Shape & { index: number }>();
  const order = entries.map((entry) => {
    const { kind, fields } = fieldsOf(entry);
    const key = kind === checkedLine ? `${fields.length} ${fields[0]}` : String(kind);
    const shape = shapes.get(key) ?? { kind, rows: [], index: shapes.size };
    shapes.set(key, shape);
    shape.rows.push(fields);
    return String(shape.index);
  });
  writer.whole(shapes.size);
  writeColumn(writer, order);
  for (const { kind, rows } of shapes.values()) {
    writer.byte(kind);
    writer.whole(rows[0]!.length);
    for (let column = 0; column < rows[0]!.length; column++) {
      writeColumn(
        writer,
        rows.map((fields) => fields[column]!),
      );
    }
  }
}

function readShapes(reader: ByteReader, count: number): { kind: number; text: string }[] {
  const shapeCount = reader.whole();
  const order = readColumn(reader, count).map(Number);
  const lengths = new Array<number>(shapeCount).fill(0);
  for (const shape of order) lengths[shape]!++;
  const texts = lengths.map((length) => {
    const kind = reader.byte();
    const columns = Array.from({ length: reader.whole() }, () => readColumn(reader, length));
    let row = 0;
    return () => {
      const fields = columns.map((column) => column[row]!);
      row++;
      return { kind, text: textOf(kind, fields) };
    };
  });
  return order.map((shape) => texts[shape]!());
}

function columnsOf(entries: readonly JournalEntry[]): Uint8Array {
  const writer = new ByteWriter();
  writer.whole(entries.length);
  writeTimes(
    writer,
    entries.map(({ hostMillis }) => hostMillis),
  );
  writeShapes(writer, entries);
  return writer.bytes();
}

function entriesOf(columns: Uint8Array, first: number): JournalEntry[] {
  const reader = new ByteReader(columns);
  const count = reader.whole();
  const times = readTimes(reader, count);
  return readShapes(reader, count).map(({ kind, text }, index) => ({
    position: first + index,
    hostMillis: times[index]!,
    kind: entryKinds[kind] ?? 'line',
    text,
  }));
}

const same = (a: JournalEntry, b: JournalEntry): boolean =>
  a.position === b.position && a.hostMillis === b.hostMillis && a.kind === b.kind && a.text === b.text;

/** True when the block gives back these very entries. */
function isFaithful(block: Uint8Array, entries: readonly JournalEntry[]): boolean {
  const back = unpackBlock(block, entries[0]!.position);
  return back.length === entries.length && entries.every((entry, index) => same(entry, back[index]!));
}

function sealed(format: number, content: Uint8Array): Uint8Array {
  const block = Buffer.alloc(content.length + 5);
  block[0] = format;
  block.writeUInt32LE(crc32(content), 1);
  block.set(content, 5);
  return block;
}

/** Halves of a pair are no characters; bytes cannot carry them. */
const halfCharacter = /\p{Surrogate}/u;

const plainJson = (entries: readonly JournalEntry[]): Uint8Array =>
  sealed(
    formats.json,
    deflateRawSync(JSON.stringify(entries.map(({ hostMillis, kind, text }) => [hostMillis, kind, text]))),
  );

/** Packs entries of consecutive positions, at least one. Columns shorter than `deflateFrom` bytes are left as they are. */
export function packBlock(entries: readonly JournalEntry[], deflateFrom = 0): Uint8Array {
  if (entries.some(({ text }) => halfCharacter.test(text))) return plainJson(entries);
  const columns = columnsOf(entries);
  if (columns.length < deflateFrom) return sealed(formats.columns, columns);
  const deflated = deflateRawSync(columns);
  return deflated.length < columns.length
    ? sealed(formats.deflated, deflated)
    : sealed(formats.columns, columns);
}

/** The same, for entries whose first form is thrown away afterwards: what comes out has been compared with what went in. */
export function packProven(entries: readonly JournalEntry[]): Uint8Array {
  const block = packBlock(entries);
  return isFaithful(block, entries) ? block : plainJson(entries);
}

/** A block that cannot be read: its bytes are not those that were written. */
export class BlockError extends Error {
  override name = 'BlockError';
}

/** The entries of a block whose first has the position `first`. Throws BlockError where its bytes have changed. */
export function unpackBlock(block: Uint8Array, first: number): JournalEntry[] {
  const bytes = Buffer.from(block.buffer, block.byteOffset, block.byteLength);
  const content = bytes.subarray(5);
  if (bytes.length < 6 || bytes.readUInt32LE(1) !== crc32(content)) {
    throw new BlockError('A block of readings is damaged.');
  }
  if (bytes[0] === formats.columns) return entriesOf(content, first);
  const inflated = inflateRawSync(content, { maxOutputLength: greatestBlock });
  if (bytes[0] === formats.deflated) return entriesOf(inflated, first);
  const plain = JSON.parse(inflated.toString()) as [number, JournalEntry['kind'], string][];
  return plain.map(([hostMillis, kind, text], index) => ({
    position: first + index,
    hostMillis,
    kind,
    text,
  }));
}
