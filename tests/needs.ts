import { accessSync, constants } from 'node:fs';
import { delimiter, isAbsolute, join } from 'node:path';

/** Programs from outside npm that some tests use: what for, and what a package manager calls them. */
export const outsidePrograms = {
  chromium: {
    use: 'the browser tests',
    names: ['chromium', 'chromium-browser', 'google-chrome'],
    debian: 'chromium',
  },
  'avr-gcc': {
    use: 'building the firmware again and comparing the bytes',
    names: ['avr-gcc'],
    debian: 'gcc-avr avr-libc binutils-avr',
  },
  gcc: { use: "the firmware's own tests on the computer", names: ['gcc'], debian: 'gcc libc6-dev' },
  make: { use: 'building the firmware', names: ['make'], debian: 'make' },
  postgres: {
    use: 'the tests of shared records on PostgreSQL',
    // Debian keeps the server itself off PATH; its helper tells that it is there.
    names: ['postgres', 'pg_ctlcluster'],
    debian: 'postgresql',
  },
  cppcheck: { use: 'the static check of the firmware', names: ['cppcheck'], debian: 'cppcheck' },
  clang: {
    use: 'fuzzing the firmware’s parser and frames',
    names: ['clang'],
    debian: 'clang libclang-rt-dev',
  },
  simavr: {
    use: 'the second opinion on the emulated board',
    // A library has no program: its header tells that it is there.
    names: ['/usr/include/simavr/sim_avr.h'],
    debian: 'libsimavr-dev',
  },
  pdftotext: {
    use: 'reading the printed sheet back',
    names: ['pdftotext'],
    debian: 'poppler-utils',
  },
  socat: { use: 'the stand on a pseudo-terminal', names: ['socat'], debian: 'socat' },
} as const;

export type OutsideProgram = keyof typeof outsidePrograms;

/** Full path of the first of the program's names found on PATH (or where an absolute name says), or null. */
export function findProgram(program: OutsideProgram): string | null {
  const folders = (process.env.PATH ?? '').split(delimiter);
  for (const name of outsidePrograms[program].names) {
    for (const folder of folders) {
      const path = isAbsolute(name) ? name : join(folder, name);
      try {
        accessSync(path, isAbsolute(name) ? constants.R_OK : constants.X_OK);
        return path;
      } catch {
        // not in this folder
      }
    }
  }
  return null;
}

/**
 * True when the program is there. When it is not, says what is left out and returns false, so that the tests can be skipped in the
 * open; with CI set a skip is a failure, so it throws.
 */
export function needs(program: OutsideProgram): boolean {
  if (findProgram(program)) return true;
  const { use, debian } = outsidePrograms[program];
  const sentence = `${program} is not on this machine (Debian: apt-get install ${debian}); without it ${use} cannot run.`;
  if (process.env.CI) throw new Error(sentence);
  console.warn(`SKIPPED: ${sentence}`);
  return false;
}
