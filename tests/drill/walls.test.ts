import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const folder = new URL('../../firmware-sim/', import.meta.url);
const drill = readdirSync(new URL('drill/', folder)).map((name) => `drill/${name}`);

/** Every module named in an import, a re-export or a dynamic import. */
function importsOf(file: string): string[] {
  const text = readFileSync(new URL(file, folder), 'utf8');
  return [...text.matchAll(/(?:from|import)\s*\(?\s*['"]([^'"]+)['"]/g)].map((match) => match[1]!);
}

describe('the imagined drill does its own sums', () => {
  it.each(drill)('%s imports only its own folder, the contract and node', (file) => {
    const strangers = importsOf(file).filter((from) => !/^(\.\/|\.\.\/world\.ts$|node:)/.test(from));
    expect(strangers).toEqual([]);
  });

  it('the ideal board takes nothing but types from the server', () => {
    const text = readFileSync(new URL('ideal-board.ts', folder), 'utf8');
    const fromServer = text.match(/^import .*server\/.*$/gm) ?? [];
    expect(fromServer.length).toBeGreaterThan(0);
    expect(fromServer.every((line) => line.startsWith('import type '))).toBe(true);
    expect(fromServer.some((line) => line.includes('domain'))).toBe(false);
  });
});
