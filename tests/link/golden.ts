import { readFileSync } from 'node:fs';

/** A row of tests/golden/protocol.tsv: its kind, the line, and its meaning by name. */
export interface GoldenRow {
  kind: string;
  line: string;
  meaning: Record<string, string>;
}

const file = new URL('../golden/protocol.tsv', import.meta.url);

export const goldenRows: readonly GoldenRow[] = readFileSync(file, 'utf8')
  .split('\n')
  .filter((row) => row !== '' && !row.startsWith('#'))
  .map((row) => {
    const [kind = '', line = '', ...pairs] = row.split('\t');
    const meaning = pairs.map((pair): [string, string] => {
      const at = pair.indexOf('=');
      return [pair.slice(0, at), pair.slice(at + 1)];
    });
    return { kind, line, meaning: Object.fromEntries(meaning) };
  });

export const goldenRowsOf = (...kinds: string[]): GoldenRow[] =>
  goldenRows.filter((row) => kinds.includes(row.kind));

/** Every good line of the board in the file. */
export const goldenBoardLines = goldenRowsOf(
  'reading',
  'identity',
  'change',
  'answer',
  'setting',
  'health',
).map((row) => row.line);
