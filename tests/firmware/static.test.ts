import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { needs } from '../needs.ts';
import { firmwareFolder, run } from './tools.ts';

describe.skipIf(!needs('cppcheck') || !needs('make'))('the static check of the firmware', () => {
  it('finds nothing', () => {
    expect(run('make', ['-s', 'check'])).toBe('');
  });

  it('finds a write behind the end of an array', () => {
    const folder = mkdtempSync(join(tmpdir(), 'firmware-check-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    cpSync(firmwareFolder, folder, { recursive: true });
    const file = join(folder, 'receiver.c');
    const source = readFileSync(file, 'utf8');
    writeFileSync(
      file,
      `${source}\nvoid past(void);\nvoid past(void)\n{\n    char text[4];\n    text[4] = 0;\n}\n`,
    );
    expect(() => run('make', ['-s', 'check'], folder)).toThrow('arrayIndexOutOfBounds');
  });
});
