/**
 * The server says in English what it found, each sentence made from a fixed pattern. The phrase book knows the patterns, and says the same in another
 * language; so do records of years ago. A sentence that it does not know stays as it is, marked as English.
 */

/** Patterns by group and key: as the texts are written, or as the build leaves them, taken apart where they hold values. */
export interface Phrases {
  readonly [group: string]: { readonly [key: string]: unknown };
}

/** A stretch of what was said; `known` when it could be said in the language. */
export interface Piece {
  text: string;
  known: boolean;
}

interface Pattern {
  matcher: RegExp;
  names: string[];
  /** Letters that are the same in each saying of it: of two patterns that fit, the one with more is meant. */
  letters: number;
  say: (values: Record<string, string>) => string;
}

type Element = { type: number; value: string };
type Say = (text: unknown, values: Record<string, string>) => string;

/** The literal stretches and the names of a text, in order. */
function elementsOf(text: unknown): Element[] {
  if (typeof text !== 'string') return text as Element[];
  return text
    .split(/(\{\w+\})/)
    .filter((part) => part !== '')
    .map((part) => (part.startsWith('{') ? { type: 1, value: part.slice(1, -1) } : { type: 0, value: part }));
}

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');

/** What a name stands for in the patterns: never more than a sentence. Counts begin with a digit, so that no other words are taken for one. */
const filledBy = (name: string): string =>
  name === 'count' || name === 'number' ? '(\\d(?:(?![.!?] [A-Z0-9]).)*?)' : '((?:(?![.!?] [A-Z0-9]).)+?)';

function patternOf(english: unknown, other: unknown, say: Say): Pattern {
  const elements = elementsOf(english);
  const source = elements.map(({ type, value }) => (type === 0 ? escaped(value) : filledBy(value)));
  return {
    matcher: new RegExp(`^${source.join('')}$`),
    names: elements.filter(({ type }) => type === 1).map(({ value }) => value),
    letters: elements.reduce((sum, { type, value }) => sum + (type === 0 ? value.length : 0), 0),
    say: (values) => say(other, values),
  };
}

const patternsOf = (english: Phrases, other: Phrases, groups: string[], say: Say): Pattern[] =>
  groups
    .flatMap((group) =>
      Object.entries(english[group] ?? {}).map(([key, text]) =>
        patternOf(text, other[group]?.[key] ?? text, say),
      ),
    )
    .sort((one, two) => two.letters - one.letters);

/** A number with a unit or in words of its own, as the server writes it: `84.2 g`, `± 1.5`. */
const figure = /^[<>≈± ]*-?\d+(?:\.\d+)?(?: ?[^\s\d]\S*)?$/;
/** Names in a row: `run 1, run 2 and run 3`; those that hold commas themselves: `this, of 200 g, or that`. */
const between = [/,? or |,? and |, /, /,? or /];
/** What a person called something, or the system said, is left as it is. */
const verbatim = new Set(['name', 'path', 'folder', 'detail']);

/** Keeps this many sentences; those on a page are far fewer. */
const mostKept = 300;

/** A phrase book from English into the language with `other` phrases. `say`: puts values into a text of it; `decimal`: its decimal mark. */
export function phrasebook(
  english: Phrases,
  other: Phrases,
  { say, decimal }: { say: Say; decimal: string },
): (told: string) => Piece[] {
  const groups = Object.keys(english).filter((group) => group !== 'parts');
  const sentences = patternsOf(english, other, groups, say);
  const parts = patternsOf(english, other, ['parts'], say);
  const runParts = parts.filter(({ names }) => names.includes('run'));
  const kept = new Map<string, Piece[]>();

  function match(text: string, patterns: Pattern[]): string | null {
    for (const { matcher, names, say: saying } of patterns) {
      const found = matcher.exec(text);
      if (found === null) continue;
      const said = names.map((name, index) => {
        const text = found[index + 1]!;
        return [name, verbatim.has(name) ? text : value(text)];
      });
      return saying(Object.fromEntries(said));
    }
    return null;
  }

  /** Names in a row, each put into the language; null where one cannot be. */
  function namesIn(text: string, patterns: Pattern[]): string | null {
    for (const mark of between) {
      const names = text.split(mark).map((name) => match(name, patterns));
      if (names.every((name) => name !== null)) return names.join(', ');
    }
    return null;
  }

  function value(text: string): string {
    if (figure.test(text)) return text.replace('.', decimal).replace(' %', '\u00a0%');
    return namesIn(text, parts) ?? match(text, sentences) ?? text;
  }

  /** A sentence that is a list of what runs did: `Run 1 lay on the target at 30 and run 2 lay ….` */
  function listed(sentence: string): string | null {
    if (!sentence.endsWith('.')) return null;
    const text = namesIn(sentence.slice(0, -1).replace(/^Run(?= \d)/, 'run'), runParts);
    return text === null ? null : `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
  }

  function translate(told: string): Piece[] {
    const plain = told.replaceAll("'", '’').replaceAll('\u00a0', ' ').trim();
    const bits = plain.split(/(?<=[.!?]) (?=[A-Z0-9])/);
    const pieces: Piece[] = [];
    for (let from = 0; from < bits.length; ) {
      let text: string | null = null;
      let until = bits.length;
      for (; until > from && text === null; until--) {
        const stretch = bits.slice(from, until).join(' ');
        text =
          match(stretch, sentences) ?? listed(stretch) ?? (bits.length === 1 ? match(stretch, parts) : null);
      }
      const next = text === null ? from + 1 : until + 1;
      pieces.push({ text: text ?? bits[from]!, known: text !== null });
      from = next;
    }
    return pieces;
  }

  return (told) => {
    let pieces = kept.get(told);
    if (pieces === undefined) {
      pieces = translate(told);
      if (kept.size >= mostKept) kept.clear();
      kept.set(told, pieces);
    }
    return pieces;
  };
}
