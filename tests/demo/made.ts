import { createHash } from 'node:crypto';
import { drills, visits } from '../../server/demo/scenario.ts';
import { demoWeekFile } from '../../server/demo/week.ts';
import { checkRun, readExport } from '../../server/records/import-check.ts';

/** The week made and looked through, in one bundle: outside the test runner it goes some four times as fast. */

export function madeTwice() {
  const [first, second] = [demoWeekFile(), demoWeekFile()].map((file) => JSON.stringify(file));
  const hash = (text: string) => createHash('sha256').update(text).digest('hex');
  return { text: first!, hashes: [hash(first!), hash(second!)] };
}

/** Throws where anything of the file is not as an export has to be, or the readings of a run do not give its figures. */
export function lookedThrough(text: string) {
  const file = readExport(text);
  for (const run of file.runs) checkRun(run);
  return file;
}

export { drills, visits };
