import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Files that take half a minute and more, the longest first: begun last, one of them would run on alone. */
const long = [
  'session/campaign.test.ts',
  'run/coverage.test.ts',
  'browser/pictures.test.ts',
  'run/reducer.property.test.ts',
  'domain/coverage.test.ts',
  'trace/mass.test.ts',
  'browser/demo.test.ts',
  'http/program.test.ts',
  'session/pty.test.ts',
];

const rank = ({ moduleId }: TestSpecification): number => {
  const place = long.findIndex((file) => moduleId.endsWith(`/tests/${file}`));
  return place < 0 ? long.length : place;
};

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const usual = await super.sort(files);
    return usual.toSorted((one, other) => rank(one) - rank(other));
  }
}
