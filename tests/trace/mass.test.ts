import { mkdirSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type FindingKind, findingKinds } from '../../server/domain/trace/finding.ts';
import { bundled, whole } from './bundled.ts';
import type { FaultRun } from './campaign.ts';
import type { FaultName } from './fault-cases.ts';

/**
 * What the scale tells, on seeded runs of the imagined drill over an ideal board: one and six cells, by motor and by hand, 5 to 100
 * turns, 2 mg clover to 230 mg peas, pulsation from none to nine tenths at 4 to 24 flutes. Whole with CATCHBENCH_WHOLE=1: 2 400 sound
 * runs, 200 of each fault. A table of what was named for what is written to tests/output/trace-confusion.md.
 */
const runs = whole ? { sound: 2400, fault: 200 } : { sound: 110, fault: 11 };
const timeout = 900_000;

type Campaign = typeof import('./campaign.ts');
let campaign: Campaign;
beforeAll(async () => {
  campaign = await bundled<Campaign>(new URL('campaign.ts', import.meta.url));
});

/** What was named, of how many runs, for each fault; `nothing` for a run without findings. */
const table = new Map<string, Map<FindingKind | 'nothing', number>>();
const figures: string[] = [];

function tally(name: string, runs: readonly { kinds: readonly FindingKind[] }[]): void {
  const row = new Map<FindingKind | 'nothing', number>();
  for (const { kinds } of runs) {
    const told = kinds.filter((kind) => !kind.startsWith('pulse-per'));
    for (const kind of told.length === 0 ? (['nothing'] as const) : told)
      row.set(kind, (row.get(kind) ?? 0) + 1);
  }
  table.set(name, row);
}

function writeTable(): void {
  const columns = [...findingKinds, 'nothing' as const].filter((kind) =>
    [...table.values()].some((row) => row.has(kind)),
  );
  const line = (cells: readonly (string | number)[]) => `| ${cells.join(' | ')} |`;
  const rows = [...table].map(([name, row]) => line([name, ...columns.map((kind) => row.get(kind) ?? '')]));
  const text = [
    `# What the trace named for what (${whole ? 'whole campaign' : 'sample'})`,
    '',
    'Rows: what was wrong. Columns: in how many runs each finding came. Pulsation, which these drills have, is left out.',
    '',
    line(['', ...columns]),
    line(['---', ...columns.map(() => '---')]),
    ...rows,
    '',
    ...figures.map((figure) => `- ${figure}`),
    '',
  ].join('\n');
  mkdirSync(new URL('../output/', import.meta.url), { recursive: true });
  writeFileSync(new URL('../output/trace-confusion.md', import.meta.url), text);
}

function tell(figure: string): void {
  figures.push(figure);
  console.info(figure);
  writeTable();
}

const quantile = (values: readonly number[], part: number): string =>
  values.length === 0
    ? '-'
    : [...values].sort((a, b) => a - b)[Math.ceil(part * values.length) - 1]!.toFixed(2);

describe('a drill with nothing wrong', () => {
  it(`gives no finding in ${runs.sound} runs but for fewer than one in 200`, { timeout }, () => {
    const sound = campaign.cleanRuns(0, runs.sound);
    const alarms = sound.filter(({ findings }) => findings.length > 0);
    tally(
      'nothing wrong',
      sound.map(({ findings }) => ({ kinds: [...new Set(findings.map(({ kind }) => kind))] })),
    );
    for (const { seed, findings } of alarms)
      console.info(
        seed,
        findings.map(({ kind, cell, from }) => ({ kind, cell, from })),
      );
    tell(`nothing wrong: ${alarms.length} of ${sound.length} runs with a finding`);
    expect(alarms.length).toBeLessThan(whole ? sound.length / 200 : 2);
  });
});

describe('a drill with one thing wrong', () => {
  const names: FaultName[] = [
    'seed bridges',
    'nothing from the start',
    'hopper runs empty',
    'one tube of six blocked',
    'leak before the start',
    'leak after the end',
    'bag knocked',
    'bag leaned on or lifted',
    'bag touches',
    'flow drifts',
    'cell dead or stuck',
    'bench shakes',
  ];
  it.each(names)('%s: named rightly, within a turn and a half or two seconds', { timeout }, (name) => {
    const all = campaign.faultRuns(name, 0, runs.fault);
    const told = all.filter(({ verdict }) => verdict !== 'not effective');
    const inTime = told.filter(({ verdict }) => verdict === 'in time');
    const wrong = told.filter((run) => run.wrong.length > 0);
    tally(name, told);
    tell(sentence(name, told, inTime, wrong));
    expect(told.length).toBeGreaterThan(runs.fault / 2);
    // A touching bag is the hardest to tell: one in twelve is named a little late (95 of 100 within 1.8 turns), one in nineteen beside something untrue.
    const [aim, besides] = name === 'bag touches' ? [0.9, 0.06] : [0.95, 0.05];
    expect(inTime.length / told.length).toBeGreaterThanOrEqual(whole ? aim : 0.78);
    expect(wrong.length / told.length).toBeLessThanOrEqual(whole ? besides : 0.22);
  });

  function sentence(name: FaultName, told: FaultRun[], inTime: FaultRun[], wrong: FaultRun[]): string {
    const late = (of: (run: FaultRun) => number | null) => told.map(of).filter((value) => value !== null);
    const turns = late((run) => run.turns);
    const seconds = late((run) => run.seconds);
    return (
      `${name}: ${inTime.length} of ${told.length} in time, ${wrong.length} with something named besides that was not so; ` +
      `95 of 100 within ${quantile(turns, 0.95)} turns or ${quantile(seconds, 0.95)} s`
    );
  }
});

describe('what the noise hides', () => {
  it('is stated', () => {
    for (const limit of campaign.limits()) tell(limit);
    // Variance of a least-squares trend over a random walk, 12 lumpiness / catch: 0.025 g and 86.8 g give a standard deviation of 6 %.
    expect(campaign.limits()[0]).toMatch(/from 4\d % over the run/);
  });
});

describe('a wheel or a person with something wrong, the flow sound', () => {
  it('is not blamed on the scale', { timeout }, () => {
    for (const name of [
      'pulses-missed',
      'pulses-doubled',
      'wheel-rolls-back',
      'wheel-jams',
      'stop-pressed',
      'uneven-hand',
    ]) {
      const kinds = Array.from({ length: whole ? 50 : 4 }, (_, seed) => ({
        kinds: campaign.presetKinds(name, seed),
      }));
      tally(name, kinds);
      const blamed = kinds.filter((run) => run.kinds.some((kind) => campaign.massKinds.includes(kind)));
      tell(`${name}: ${blamed.length} of ${kinds.length} blamed on the scale`);
      expect(blamed.length, name).toBeLessThanOrEqual(0.02 * kinds.length);
    }
  });
});
