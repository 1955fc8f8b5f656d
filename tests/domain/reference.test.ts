import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const index = readFileSync(`${root}server/domain/index.ts`, 'utf8');
const exported = [...index.matchAll(/^export \* as (\w+) from '\.\/([\w/-]+\.ts)';$/gm)].map((found) => ({
  name: found[1]!,
  file: found[2]!,
}));
const groundwork = index.slice(index.indexOf('/*\n * Groundwork')).match(/[\w-]+\.ts\b/g) ?? [];

describe('the index of server/domain', () => {
  it('exports each file of the folder or names it as groundwork, and none that is not there', () => {
    const files = readdirSync(`${root}server/domain`).filter(
      (name) => name.endsWith('.ts') && name !== 'index.ts',
    );
    const direct = exported.map(({ file }) => file).filter((file) => !file.includes('/'));
    const named = groundwork;
    expect([...direct, ...named].sort()).toEqual(files.sort());
  });

  it('exports nothing but modules, each once', () => {
    expect(index.match(/^(export|import) /gm)).toHaveLength(exported.length);
    expect(new Set(exported.map(({ name }) => name)).size).toBe(exported.length);
  });

  it('says of every module what it is for', () => {
    const linked = [...index.matchAll(/\{@link catchbench#(\w+)\}/g)].map((found) => found[1]!);
    expect([...new Set(linked)].sort()).toEqual(exported.map(({ name }) => name).sort());
  });
});

describe('the reference made from it', () => {
  it('has a page for every module, and shows units, ranges and errors', { timeout: 120_000 }, () => {
    const made = spawnSync('npm', ['run', '--silent', 'reference'], { cwd: root, encoding: 'utf8' });
    expect(`${made.stdout}${made.stderr}`).not.toMatch(/warning:|error:/i);
    expect(made.status).toBe(0);
    const pages = `${root}server/dist/reference/pages`;
    const names = readdirSync(pages);
    for (const { name } of exported) expect(names).toContain(`catchbench.${name.toLowerCase()}.md`);
    const page = readFileSync(`${pages}/catchbench.geometry.testarea.md`, 'utf8');
    expect(page).toContain('A = N C s k / (1 - q)');
    expect(page).toContain('## Exceptions');
    expect(page).toContain('catchbench.geometry.drillgeometry.md');
  });
});
