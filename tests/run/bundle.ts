import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

/** A module of these tests as one file, outside the test runner's own module system: simulations go four times as fast there. */
export async function bundled<T>(entry: URL): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'catchbench-bundle-'));
  try {
    const outfile = join(folder, 'module.mjs');
    await build({ entryPoints: [entry.pathname], outfile, bundle: true, platform: 'node', format: 'esm' });
    return (await import(/* @vite-ignore */ pathToFileURL(outfile).href)) as T;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
