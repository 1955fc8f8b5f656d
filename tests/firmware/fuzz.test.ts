/**
 * The firmware's receiver, parser and settings under libFuzzer with sanitizers, from the corpus beside this file. CATCHBENCH_WHOLE=1 runs
 * five million inputs and adds to the corpus what reached something new.
 */
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { needs } from '../needs.ts';
import { firmwareFolder, pureParts, run, testFolder } from './tools.ts';

const whole = Boolean(process.env.CATCHBENCH_WHOLE);
const inputs = whole ? 5_000_000 : 60_000;

describe.skipIf(!needs('clang'))('the firmware’s parser under the fuzzer', () => {
  it(`bears ${inputs} inputs, and believes no setting out of range`, { timeout: 600_000 }, () => {
    const folder = mkdtempSync(join(tmpdir(), 'firmware-fuzz-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const program = join(folder, 'fuzz');
    run('clang', [
      ...['-std=gnu11', '-O1', '-g', '-fsanitize=fuzzer,address,undefined', '-fno-sanitize-recover=all'],
      `-I${firmwareFolder}`,
      join(testFolder, 'fuzz/fuzz.c'),
      ...pureParts.map((name) => join(firmwareFolder, `${name}.c`)),
      ...['-o', program],
    ]);
    const kept = join(testFolder, 'corpus');
    const corpus = whole ? kept : join(folder, 'corpus');
    if (!whole) cpSync(kept, corpus, { recursive: true });
    const options = ['-seed=1', `-runs=${inputs}`, '-max_len=256', '-print_final_stats=1', '-verbosity=0'];
    const said = run('sh', ['-c', `exec "$@" 2>&1`, 'sh', program, ...options, corpus], folder);
    const done = Number(/number_of_executed_units: (\d+)/.exec(said)?.[1]);
    console.info(`fuzzer: ${done} inputs`);
    expect(done).toBeGreaterThanOrEqual(inputs);
  });
});
