import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

export const firmwareFolder = fileURLToPath(new URL('../../firmware-sim/firmware/', import.meta.url));
export const shippedHex = `${firmwareFolder}catchbench-stand.hex`;
export const goldenFile = fileURLToPath(new URL('../golden/protocol.tsv', import.meta.url));
export const testFolder = fileURLToPath(new URL('./', import.meta.url));

/** The firmware's parts that know no hardware: they compile for a computer too. */
export const pureParts = [
  'crc16',
  'text',
  'lines',
  'settings',
  'image',
  'receiver',
  'command',
  'run_rules',
  'samples',
];

/** Runs a program to its end and returns what it printed; throws with all it said when it fails. */
export function run(program: string, args: string[], folder = firmwareFolder): string {
  const result = spawnSync(program, args, { cwd: folder, encoding: 'utf8', maxBuffer: 1 << 24 });
  if (result.error) throw result.error;
  if (result.status !== 0)
    throw new Error(
      `${program} ended with ${result.status ?? result.signal}:\n${result.stdout}\n${result.stderr}`,
    );
  return result.stdout;
}
