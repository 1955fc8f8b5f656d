import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

interface Manifest {
  name: string;
  version: string;
}

function manifestIn(folder: string): Manifest | null {
  const path = join(folder, 'package.json');
  if (!existsSync(path)) return null;
  const manifest = JSON.parse(readFileSync(path, 'utf8')) as Manifest;
  return manifest.name === 'catchbench' ? manifest : null;
}

/**
 * The project's folder and version, found upwards from this code, wherever it runs: as source, bundled, or in a test.
 * @throws Error when no folder above holds the project's package.json.
 */
export function findProject(): { folder: string; version: string } {
  for (let folder = dirname(fileURLToPath(import.meta.url)); ; folder = dirname(folder)) {
    const manifest = manifestIn(folder);
    if (manifest !== null) return { folder, version: manifest.version };
    if (dirname(folder) === folder) throw new Error('The folder of catchbench was not found above its code.');
  }
}
