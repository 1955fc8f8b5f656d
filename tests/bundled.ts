import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { findProject } from '../server/project.ts';

/**
 * A module of these tests as one file, outside the test runner's own module system: simulations go some four times as fast there. It lies in the
 * project while it is read, so that packages are found.
 */
export async function bundled<Module>(entry: URL): Promise<Module> {
  const cache = join(findProject().folder, 'node_modules', '.cache');
  mkdirSync(cache, { recursive: true });
  const folder = mkdtempSync(join(cache, 'catchbench-'));
  try {
    const outfile = join(folder, 'module.mjs');
    await build({
      entryPoints: [entry.pathname],
      outfile,
      bundle: true,
      packages: 'external',
      platform: 'node',
      format: 'esm',
    });
    return (await import(/* @vite-ignore */ pathToFileURL(outfile).href)) as Module;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
