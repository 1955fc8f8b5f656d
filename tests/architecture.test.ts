import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Every source file below `folder`, relative to the project. */
function sources(folder: string): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return ['dist', 'node_modules'].includes(entry.name) ? [] : sources(path);
    return /\.tsx?$/.test(entry.name) ? [path] : [];
  });
}

interface Import {
  from: string;
  to: string;
  typeOnly: boolean;
}

const importPattern = /^\s*(?:import|export)\s+(type\s+)?(?:[^'";]*?\sfrom\s+)?['"]([^'"]+)['"]/gm;

/** Imports of our own files (relative to the project) and of packages (by name). */
function importsOf(file: string): Import[] {
  const text = readFileSync(join(root, file), 'utf8');
  return [...text.matchAll(importPattern)].map(([, type, target]) => ({
    from: file,
    to: target!.startsWith('.') ? relative(root, resolve(join(root, dirname(file)), target!)) : target!,
    typeOnly: type !== undefined,
  }));
}

const imports = (folder: string): Import[] => sources(folder).flatMap(importsOf);
const within = (folders: string[], path: string): boolean =>
  folders.some((folder) => path === folder || path.startsWith(`${folder}/`));

/** Imports from `folder` that lead anywhere but to `allowed`; `types` may be imported as types alone. */
function strays(folder: string, allowed: string[], types: string[] = []): string[] {
  return imports(folder)
    .filter(({ to, typeOnly }) => !within(allowed, to) && !(typeOnly && within(types, to)))
    .map(({ from, to }) => `${from} -> ${to}`);
}

describe('the arrows between the folders', () => {
  it('finds the sources at all', () => {
    expect(imports('server').length).toBeGreaterThan(20);
  });

  it('server/domain imports nothing from outside itself', () => {
    expect(strays('server/domain', ['server/domain'])).toEqual([]);
  });

  it('the reducer of server/run knows domain, and of the link only its shapes', () => {
    const pure = strays('server/run', ['server/run', 'server/domain'], ['server/link']);
    expect(pure.filter((arrow) => !arrow.startsWith('server/run/session'))).toEqual([]);
  });

  it('server/link knows frames, not rates: nothing of domain, run, records or http but shapes', () => {
    const ours = strays('server/link', ['server/link', 'server/clock.ts'], ['server/http/messages.ts']);
    expect(ours.filter((arrow) => / -> (server|web|firmware-sim|tests)\//.test(arrow))).toEqual([]);
  });

  it('server/records knows rows, not sensors: nothing of http or the page', () => {
    expect(imports('server/records').filter(({ to }) => within(['server/http', 'web'], to))).toEqual([]);
  });

  it('server/calibration joins records, run and domain; of http it knows the shapes alone', () => {
    const allowed = ['server/calibration', 'server/domain', 'server/run', 'server/records'];
    const shapes = ['server/http/calibration-messages.ts', 'server/http/messages.ts'];
    expect(strays('server/calibration', [...allowed, shapes[0]!, 'uuid', 'node:crypto'], shapes)).toEqual([]);
  });

  it('server/access knows people, not routes or runs: nothing of ours from outside itself', () => {
    const ours = strays('server/access', ['server/access']);
    expect(ours.filter((arrow) => / -> (server|web|firmware-sim|tests)\//.test(arrow))).toEqual([]);
  });

  it('server/paper/compose, which the page shares, knows domain, and of the rest only shapes and texts', () => {
    const shapes = ['server/http/calibration-messages.ts', 'server/http/messages.ts', 'web/texts'];
    expect(strays('server/paper/compose', ['server/paper/compose', 'server/domain', 'uqr'], shapes)).toEqual(
      [],
    );
  });

  it('nothing in server but the demo knows the imagined drill', () => {
    const arrows = imports('server').filter(({ to }) => within(['firmware-sim'], to));
    expect(arrows.filter(({ from }) => !within(['server/demo.ts', 'server/demo'], from))).toEqual([]);
  });

  it('the imagined drill does its own sums', () => {
    expect(imports('firmware-sim').filter(({ to }) => within(['server/domain'], to))).toEqual([]);
  });

  it('the page takes from the server only messages, shapes, limits of a run and domain', () => {
    const arrows = imports('web').filter(({ to }) => within(['server'], to));
    const allowed = [
      'server/http/messages.ts',
      'server/http/calibration-messages.ts',
      'server/http/records-messages.ts',
      'server/http/setup-messages.ts',
      'server/http/scale-messages.ts',
      'server/http/before-run-messages.ts',
      'server/http/field-messages.ts',
      'server/http/access-messages.ts',
      'server/http/stand-messages.ts',
      'server/domain',
      'server/paper/compose',
      'server/run/types.ts',
      'server/run/limits.ts',
    ];
    expect(arrows.filter(({ to }) => !within(allowed, to))).toEqual([]);
  });
});
