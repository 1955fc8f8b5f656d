import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const folder = fileURLToPath(new URL('.', import.meta.url));

it('the list of published cases names every test file of this folder, and no other', () => {
  const rows = readFileSync(`${folder}README.md`, 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('| '));
  const named = rows.flatMap((row) =>
    [...(row.split(' | ')[2] ?? '').matchAll(/`([\w-]+)`/g)].map(([, name]) => name!),
  );
  const files = readdirSync(folder)
    .filter((name) => name.endsWith('.test.ts') && name !== 'list.test.ts')
    .map((name) => name.replace('.test.ts', ''));
  expect([...new Set(named)].sort()).toEqual(files.sort());
});
