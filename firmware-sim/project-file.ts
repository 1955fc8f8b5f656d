/** Finds the project's own files from wherever its code runs: the sources, a bundle or a test. */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * The path of a file of this project.
 * @param relative path from the project's folder.
 * @throws Error when no folder above this code is the project's.
 */
export function projectFile(relative: string): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!isProject(folder)) {
    if (folder === dirname(folder))
      throw new Error('The folder of catchbench was not found above its own code.');
    folder = dirname(folder);
  }
  return join(folder, relative);
}

function isProject(folder: string): boolean {
  const manifest = join(folder, 'package.json');
  return existsSync(manifest) && JSON.parse(readFileSync(manifest, 'utf8')).name === 'catchbench';
}
