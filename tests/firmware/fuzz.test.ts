/**
 * The firmware's receiver, parser and settings, and the lines that it makes, under libFuzzer with sanitizers, each from its corpus: one input a
 * line, in hexadecimal digits. CATCHBENCH_WHOLE=1 runs five million inputs each, adds to the corpus what reached something new and leaves out what
 * no longer does.
 */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { needs } from '../needs.ts';
import { firmwareFolder, pureParts, run, testFolder } from './tools.ts';

const whole = Boolean(process.env.CATCHBENCH_WHOLE);

const targets = [
  { name: 'receiver, parser and settings', target: 'fuzz', inputs: whole ? 5_000_000 : 60_000 },
  { name: 'lines of the board', target: 'frames', inputs: whole ? 5_000_000 : 12_000 },
];

/** Builds the program, which stops at the first input that breaks what its source demands. */
function build(folder: string, source: string): string {
  const program = join(folder, 'fuzz');
  run('clang', [
    ...['-std=gnu11', '-O1', '-g', '-fsanitize=fuzzer,address,undefined', '-fno-sanitize-recover=all'],
    `-I${firmwareFolder}`,
    join(testFolder, 'fuzz', source),
    ...pureParts.map((name) => join(firmwareFolder, `${name}.c`)),
    ...['-o', program],
  ]);
  return program;
}

const corpusFile = (target: string): string => join(testFolder, `fuzz/${target}.corpus`);

/** Lays the corpus out as libFuzzer has it, a file each. */
function unpack(target: string, folder: string): void {
  const lines = readFileSync(corpusFile(target), 'utf8').split('\n');
  for (const [n, line] of lines.filter((each) => each !== '').entries())
    writeFileSync(join(folder, `kept-${n}`), Buffer.from(line, 'hex'));
}

/** Writes the corpus as one file, shortest inputs first. */
function pack(folder: string, target: string): void {
  const inputs = readdirSync(folder).map((name) => readFileSync(join(folder, name)).toString('hex'));
  const lines = [...new Set(inputs)].filter((each) => each !== '');
  lines.sort((one, other) => one.length - other.length || (one < other ? -1 : 1));
  writeFileSync(corpusFile(target), `${lines.join('\n')}\n`);
}

/** Runs to the end, with what goes to the error channel too. */
const fuzz = (program: string, ...options: string[]): string =>
  run('sh', ['-c', `exec "$@" 2>&1`, 'sh', program, ...options], tmpdir());

describe.skipIf(!needs('clang'))('under the fuzzer', () => {
  it.each(targets)('$name bear $inputs inputs', { timeout: 1_800_000 }, ({ target, inputs }) => {
    const folder = mkdtempSync(join(tmpdir(), 'firmware-fuzz-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const [corpus, smaller] = [join(folder, 'corpus'), join(folder, 'smaller')];
    mkdirSync(corpus);
    mkdirSync(smaller);
    unpack(target, corpus);
    const program = build(folder, `${target}.c`);
    const said = fuzz(program, '-seed=1', `-runs=${inputs}`, '-max_len=256', '-print_final_stats=1', corpus);
    const done = Number(/number_of_executed_units: (\d+)/.exec(said)?.[1]);
    const [, edges, features] = [...said.matchAll(/cov: (\d+) ft: (\d+)/g)].at(-1) ?? [];
    console.info(`${target}.c: ${done} inputs, ${edges} edges, ${features} features`);
    expect(done).toBeGreaterThanOrEqual(inputs);
    if (!whole) return;
    fuzz(program, '-merge=1', '-max_len=64', smaller, corpus);
    pack(smaller, target);
  });
});
