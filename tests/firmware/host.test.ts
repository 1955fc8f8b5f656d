import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { firmwareFolder, goldenFile, pureParts, run, testFolder } from './tools.ts';

const warnings = ['-Wall', '-Wextra', '-Werror', '-Wshadow'];
const sanitizers = ['-fsanitize=address,undefined', '-fno-sanitize-recover=all'];

describe.skipIf(!needs('gcc'))('the firmware’s pure parts, compiled for this machine', () => {
  let folder = '';
  let program = '';

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'firmware-host-'));
    program = join(folder, 'host');
    const sources = readdirSync(testFolder).filter((name) => name.endsWith('.c'));
    run('gcc', [
      ...['-std=gnu11', '-O1', '-g', ...warnings, ...sanitizers, `-I${firmwareFolder}`, `-I${testFolder}`],
      ...sources.map((name) => join(testFolder, name)),
      ...pureParts.map((name) => join(firmwareFolder, `${name}.c`)),
      ...['-o', program],
    ]);
  }, 60_000);

  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('agree with the golden lines, decide as described and keep settings through power cuts', () => {
    expect(run(program, [goldenFile, '1', '1000'])).toContain(' 0 failed');
  });

  it.each([1, 20, 300])('take a million random and corrupted bytes, seed %i', (seed) => {
    const said = run(program, [goldenFile, String(seed), '1000000']);
    expect(said).toContain(`seed ${seed}: 1000000 bytes of noise`);
    expect(said).toContain(' 0 failed');
  });

  it('fail when a golden line is not as it should be', () => {
    const wrong = join(folder, 'wrong.tsv');
    run('sh', ['-c', `sed 's/settings=ok/settings=blank/' '${goldenFile}' > '${wrong}'`]);
    expect(() => run(program, [wrong, '1', '1000'])).toThrow('not true');
  });
});
