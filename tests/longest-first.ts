import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { pureFolders } from './pure-folders.ts';

/** Files that take ten seconds and more on an idle machine, the longest first: begun last, one of them would run on alone. */
const long = [
  'session/pty.test.ts',
  'browser/demo.test.ts',
  'session/campaign.test.ts',
  'stand/whole.test.ts',
  'faults/records-share.test.ts',
  'http/program.test.ts',
  'browser/setup.test.ts',
  'browser/records.test.ts',
  'browser/axe.test.ts',
  'stand/desk.test.ts',
  'browser/pictures.test.ts',
  'faults/cable-pulls.test.ts',
  'faults/standstill.test.ts',
  'faults/program-killed.test.ts',
  'stand/terminal.test.ts',
  'browser/checks.test.ts',
  'run/coverage.test.ts',
  'calibration/walk.test.ts',
  'run/reducer.property.test.ts',
  'session/take-up.test.ts',
  'trace/mass.test.ts',
  'domain/coverage.test.ts',
];

/** The long ones, then the rest, then what is pure: many small files in a row, which fill what is left of each worker's time. */
function rank({ moduleId }: TestSpecification): number {
  const place = long.findIndex((file) => moduleId.endsWith(`/tests/${file}`));
  if (place >= 0) return place;
  return pureFolders.some((folder) => moduleId.includes(`/tests/${folder}/`)) ? long.length + 1 : long.length;
}

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const usual = await super.sort(files);
    return usual.toSorted((one, other) => rank(one) - rank(other));
  }
}
