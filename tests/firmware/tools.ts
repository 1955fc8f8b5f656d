import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export const firmwareFolder = fileURLToPath(new URL('../../firmware-sim/firmware/', import.meta.url));
export const shippedHex = `${firmwareFolder}catchbench-stand.hex`;
export const goldenFile = fileURLToPath(new URL('../golden/protocol.tsv', import.meta.url));
export const testFolder = fileURLToPath(new URL('./', import.meta.url));

/** Runs a program to its end; throws with all it said when it fails. */
export function run(program: string, args: string[], folder = firmwareFolder): string {
  const result = spawnSync(program, args, { cwd: folder, encoding: 'utf8' });
  if (result.error) throw result.error;
  if (result.status !== 0)
    throw new Error(
      `${program} ended with ${result.status ?? result.signal}:\n${result.stdout}\n${result.stderr}`,
    );
  return result.stdout;
}

/**
 * Whether all these programs can be run. Where one is missing the tests that need it are skipped with a message, except under
 * CI, where they run and fail.
 */
export function mayRun(programs: string[], packages: string): boolean {
  const missing = programs.filter(
    (program) => !(process.env.PATH ?? '').split(':').some((folder) => existsSync(`${folder}/${program}`)),
  );
  if (missing.length === 0 || process.env.CI) return true;
  console.warn(`Skipped: ${missing.join(', ')} not found. On Debian or Ubuntu: apt-get install ${packages}`);
  return false;
}
