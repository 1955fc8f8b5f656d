import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { sentencesOf } from './sentences-of.ts';

/** Which files of the server speak to people at the page: all that hold a sentence and stand in no list here. */

export const server = fileURLToPath(new URL('../../server/', import.meta.url));

/** Heard elsewhere than at the page. */
const elsewhere = [
  // The terminal and the log.
  /^(build|checks|command-line|licences|main|project|service)\.ts/,
  /^observe\//,
  /^access\/(access|certificate)\.ts/,
  /^stand\/terminal\.ts/,
  /^http\/page\.ts/,
  /^records\/(command|open|verify)\.ts/,
  /^run\/session-recover\.ts/,
  // What stands on record or on paper in English: what people of the demo typed, notes of runs and of rows, the printed report of a check.
  /^demo\//,
  /^before-run\/items\.ts/,
  /^stand\/report\.ts/,
  // The description of the routes for programs.
  /^http\/(app|routes-run|routes-stand)\.ts/,
  // Mistakes of a program, not of a person.
  /^(link\/encode|records\/(bytes|columns))\.ts/,
];

/** What the page says in words of its own: it has a code for it, or works it out itself. `stand/words.ts` is asked remark by remark. */
const inWordsOfThePage = [
  /^stand\/words\.ts/,
  /^domain\/(circumference|correlated|counted-sample|enough-turns|field-checks?|germination|grubbs)\.ts/,
  /^domain\/(inverse-prediction|mix-seeds|mix-tag|one-way|outlier|poisson|regression|repeatability|repeats|row-limits|sample|scale-class)\.ts/,
  /^domain\/(seed-lot|seed-mix|share|species|species-count|statistics|straight-line|target-units)\.ts/,
  /^domain\/(test-length|units|zero-return)\.ts/,
];

const files = (folder = ''): string[] =>
  readdirSync(server + folder, { withFileTypes: true }).flatMap((entry) => {
    const path = folder + entry.name;
    if (entry.isDirectory()) return ['dist', 'node_modules'].includes(entry.name) ? [] : files(`${path}/`);
    return /(?<!\.d)\.ts$/.test(path) ? [path] : [];
  });

/** Each with the sentences that it can say. */
export const speaking: [path: string, sentences: string[]][] = files()
  .filter((path) => ![...elsewhere, ...inWordsOfThePage].some((list) => list.test(path)))
  .map((path): [string, string[]] => [path, sentencesOf(server + path)])
  .filter(([, sentences]) => sentences.length > 0);
