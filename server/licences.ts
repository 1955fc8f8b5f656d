import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { findProject } from './project.ts';

interface Locked {
  version?: string;
  license?: string;
  dev?: boolean;
  optional?: boolean;
}

/** Names that the lock file gives as no SPDX word, looked up in the package itself. */
const lookedUp: Record<string, string> = {
  'png-js': 'MIT', // in its LICENSE file
  'dejavu-fonts-ttf': 'Bitstream Vera and Arev fonts, changes in the public domain',
};

const nameOf = (path: string): string =>
  path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);

/** Every package that comes along when Catchbench is installed, with its version and licence, one a line, in order of name. */
export function licences(folder: string): string {
  const lock = JSON.parse(readFileSync(join(folder, 'npm-shrinkwrap.json'), 'utf8')) as {
    packages: Record<string, Locked>;
  };
  const lines = Object.entries(lock.packages)
    .filter(([path, { dev }]) => path !== '' && !dev)
    .map(([path, { version, license }]) => {
      const name = nameOf(path);
      return `${name} ${version}: ${lookedUp[name] ?? license ?? 'none named'}`;
    });
  return `${[...new Set(lines)].toSorted().join('\n')}\n`;
}

export const licenceList = (folder: string): string => join(folder, 'server', 'deploy', 'licences.txt');

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { folder } = findProject();
  writeFileSync(licenceList(folder), licences(folder));
}
