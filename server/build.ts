import { existsSync, readdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import * as esbuild from 'esbuild';
import { build as buildPage } from 'vite';

const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Newest modification time of any file in these folders, milliseconds; build output and dependencies left out. */
function newest(folders: string[]): number {
  let latest = 0;
  for (const folder of folders) {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      if (entry.name === 'dist' || entry.name === 'node_modules') continue;
      const path = join(folder, entry.name);
      latest = Math.max(latest, entry.isDirectory() ? newest([path]) : statSync(path).mtimeMs);
    }
  }
  return latest;
}

const isFresh = (output: string, folders: string[]): boolean =>
  existsSync(output) && statSync(output).mtimeMs > newest(folders.map((folder) => join(root, folder)));

async function buildPrograms(): Promise<void> {
  await esbuild.build({
    entryPoints: {
      main: join(root, 'server/main.ts'),
      stand: join(root, 'firmware-sim/cli.ts'),
      'demo-week': join(root, 'server/demo/thread.ts'),
      'paper-thread': join(root, 'server/paper/pdf/thread.ts'),
    },
    outdir: join(root, 'server/dist'),
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    target: 'node20',
    banner: { js: '#!/usr/bin/env node' },
    sourcemap: true,
    logLevel: 'warning',
  });
}

/**
 * Builds what is older than its sources: the programs into server/dist (main.js the service and the demo, stand.js the emulated
 * stand), the page into web/dist.
 */
export async function build({ quiet = false } = {}): Promise<void> {
  if (!isFresh(join(root, 'server/dist/stand.js'), ['server', 'firmware-sim', 'web/texts']))
    await buildPrograms();
  if (
    !isFresh(join(root, 'web/dist/index.html'), [
      'web',
      'server/domain',
      'server/http',
      'server/paper',
      'server/run',
    ])
  ) {
    await buildPage({ configFile: join(root, 'web/vite.config.ts'), logLevel: quiet ? 'error' : 'warn' });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await build();
