import type { ByteReader, ByteWriter } from './bytes.ts';

/**
 * A column is the same field of many lines. Whole numbers are kept as steps from one to the next, texts as they are, and a column that never
 * changes once. `read` gives back exactly the texts that `write` was given.
 */

const kinds = { constant: 0, steps: 1, texts: 2 } as const;

/** A whole number as a program writes it: no plus, no leading zeros, short enough that steps between two stay exact. */
const wholeNumber = /^(?:0|-?[1-9]\d{0,13})$/;

export function writeColumn(writer: ByteWriter, texts: readonly string[]): void {
  const [first] = texts;
  if (texts.every((text) => text === first)) {
    writer.byte(kinds.constant);
    writer.text(first ?? '');
  } else if (texts.every((text) => wholeNumber.test(text))) {
    writer.byte(kinds.steps);
    writeSteps(writer, texts.map(Number));
  } else {
    writer.byte(kinds.texts);
    for (const text of texts) writer.text(text);
  }
}

export function readColumn(reader: ByteReader, count: number): string[] {
  const kind = reader.byte();
  if (kind === kinds.constant) return new Array(count).fill(reader.text());
  if (kind === kinds.steps) return readSteps(reader, count).map(String);
  if (kind === kinds.texts) return Array.from({ length: count }, () => reader.text());
  throw new RangeError('A column of unknown kind.');
}

export function writeSteps(writer: ByteWriter, values: readonly number[]): void {
  let before = 0;
  for (const value of values) {
    writer.signed(value - before);
    before = value;
  }
}

export function readSteps(reader: ByteReader, count: number): number[] {
  let value = 0;
  return Array.from({ length: count }, () => {
    value += reader.signed();
    return value;
  });
}

/** Times are kept in the coarsest of these parts of a unit that holds them all exactly, else as doubles. */
const parts = [1, 10, 100, 1000, 1e6];

export function writeTimes(writer: ByteWriter, times: readonly number[]): void {
  const index = parts.findIndex((part) =>
    times.every((time) => Math.abs(time * part) < 1e14 && Math.round(time * part) / part === time),
  );
  writer.byte(index < 0 ? parts.length : index);
  const part = parts[index];
  if (part === undefined) for (const time of times) writer.double(time);
  else
    writeSteps(
      writer,
      times.map((time) => Math.round(time * part)),
    );
}

export function readTimes(reader: ByteReader, count: number): number[] {
  const part = parts[reader.byte()];
  if (part === undefined) return Array.from({ length: count }, () => reader.double());
  return readSteps(reader, count).map((steps) => steps / part);
}
