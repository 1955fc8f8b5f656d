/** Lines of two boards side by side: alike but for time stamps, and those alike within microseconds. */
import { sealed } from '../firmware/stand.ts';

/** Fields of a line that tell a time, by kind of the line. */
const timeFields: Record<string, readonly number[]> = { R: [2, 5], E: [2] };
/** Named fields that tell how long the program took: the emulators charge some instructions a cycle more or less. */
const durationNames = /^(loop|worst)=/;

const passMicros = 1000;
const passJitterMicros = 15;

const converterFault = 0x10;
const flagsField = 8;
const firstCount = 9;

export interface Comparison {
  lines: number;
  /** Largest difference of a time stamp, microseconds. */
  largestMicros: number;
  /** Largest difference of a pass's duration, microseconds. */
  largestDuration: number;
  /**
   * Readings that one board made a pass (1 ms) before the other: a conversion ended as the program looked for it, and a few cycles
   * decide whether this pass sees it or the next.
   */
  passesApart: number;
  /**
   * Readings in which one of the two boards had a converter end its conversion at the very trailer bit (protocol.md, 'R'): it says
   * `x` there and counts a `desync`. A microsecond's difference decides that, so the two need not agree on it.
   */
  coincidences: number;
  /** Pairs of lines that differ in more than that. */
  different: [string, string][];
}

/** What remains of a line without its check; the line as it is when the check is wrong. */
function unsealed(line: string): string {
  const text = line.slice(0, -5);
  return sealed(text) === line ? text : line;
}

/** The fault flag on one side only, or a value that is missing on the side that has the flag. */
function isCoincidence(one: readonly string[], other: readonly string[], at: number): boolean {
  if (one[0] !== 'R' || at < flagsField) return false;
  const flags = [one, other].map((fields) => Number.parseInt(fields[flagsField]!, 16));
  if ((flags[0]! ^ flags[1]!) !== converterFault) return false;
  const faulty = flags[0]! & converterFault ? one : other;
  return at === flagsField || (at >= firstCount && faulty[at] === 'x');
}

function compareFields(one: readonly string[], other: readonly string[], sum: Comparison): boolean {
  if (one.length !== other.length) return false;
  return one.every((field, at) => {
    const another = other[at]!;
    if (timeFields[one[0]!]?.includes(at)) {
      const micros = Math.abs(Number(field) - Number(another));
      if (Math.abs(micros - passMicros) <= passJitterMicros) sum.passesApart += at === 2 ? 1 : 0;
      else sum.largestMicros = Math.max(sum.largestMicros, micros);
      return true;
    }
    if (isCoincidence(one, other, at)) {
      sum.coincidences += at === flagsField ? 1 : 0;
      return true;
    }
    if (field.startsWith('desync=') && another.startsWith('desync=')) {
      return Math.abs(Number(field.slice(7)) - Number(another.slice(7))) <= sum.coincidences;
    }
    const name = durationNames.exec(field)?.[0];
    if (name === undefined || !another.startsWith(name)) return field === another;
    const difference = Number(field.slice(name.length)) - Number(another.slice(name.length));
    sum.largestDuration = Math.max(sum.largestDuration, Math.abs(difference));
    return true;
  });
}

/**
 * Lines by kind, without their sequence numbers: whether a reading goes out before an answer or after it may hang on the few cycles
 * by which the emulators differ, but each kind has its own order. Throws when a number is missing.
 */
function byKind(lines: readonly string[]): Map<string, string[][]> {
  const kinds = new Map<string, string[][]>();
  let expected = 0;
  for (const line of lines) {
    const [kind = '', sequence, ...rest] = unsealed(line).split(' ');
    if (kind === '') continue; // the empty line after a reset
    if (Number(sequence) !== expected++) throw new Error(`a line is missing before: ${line}`);
    kinds.set(kind, [...(kinds.get(kind) ?? []), [kind, '', ...rest]]);
  }
  return kinds;
}

export function compare(ones: readonly string[], others: readonly string[]): Comparison {
  const sum: Comparison = {
    lines: ones.length,
    largestMicros: 0,
    largestDuration: 0,
    passesApart: 0,
    coincidences: 0,
    different: [],
  };
  const [one, other] = [byKind(ones), byKind(others)];
  for (const kind of new Set([...one.keys(), ...other.keys()])) {
    const left = one.get(kind) ?? [];
    const right = other.get(kind) ?? [];
    for (let at = 0; at < Math.max(left.length, right.length); at++) {
      const pair = [left[at] ?? [], right[at] ?? []] as const;
      if (!compareFields(...pair, sum)) sum.different.push([pair[0].join(' '), pair[1].join(' ')]);
    }
  }
  return sum;
}
