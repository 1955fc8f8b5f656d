import { presets } from '../../firmware-sim/drill/presets.ts';
import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { restSeconds } from '../../server/domain/trace/batch.ts';
import type { Finding, FindingKind } from '../../server/domain/trace/finding.ts';
import { traceFindings } from '../../server/domain/trace/trace.ts';
import { type Case, cleanCase, cleanPreset } from './clean-scenarios.ts';
import { type FaultCase, type FaultName, faultKinds, limitsOf } from './fault-cases.ts';
import { knowledgeOf, tracedRun } from './traced.ts';

/** Many runs, sound and faulty, with what the trace said of each. */

export interface CleanRun {
  seed: number;
  findings: Finding[];
}

/** Every fourth is a preset as it stands. */
export function caseOf(seed: number): Case {
  return seed % 4 === 0 ? cleanPreset(seed / 4) : cleanCase(`clean ${seed}`);
}

/** Findings of pulsation are left out. */
export function cleanRuns(from: number, to: number): CleanRun[] {
  const runs: CleanRun[] = [];
  for (let seed = from; seed < to; seed++) {
    const { scenario, course, knowledge } = caseOf(seed);
    const { state } = tracedRun(scenario, seed, course, knowledge);
    runs.push({ seed, findings: traceFindings(state).filter(({ kind }) => !pulsations.includes(kind)) });
  }
  return runs;
}

export type Verdict = 'in time' | 'late' | 'missed' | 'not effective';

export interface FaultRun {
  seed: string;
  verdict: Verdict;
  /** From when the fault had taken effect until it was named; null when it was not. */
  turns: number | null;
  seconds: number | null;
  /** Everything named by the end. */
  kinds: FindingKind[];
  /** Named besides, and not true. */
  wrong: FindingKind[];
  findings: Finding[];
}

const mostTurns = 1.5;
const mostSeconds = 2;
/** Readings from one look at the findings to the next: a tenth of a second. */
const lookEvery = 8;

export function faultRuns(name: FaultName, from: number, to: number): FaultRun[] {
  return Array.from({ length: to - from }, (_, i) =>
    faultRun(`${name} ${from + i}`, faultKinds[name](`${name} ${from + i}`)),
  );
}

const isRight = (fault: FaultCase) => (finding: Finding) =>
  finding.kind === fault.kind && (fault.kind === 'scale-noisy' || finding.cell === fault.cell);

export function faultRun(seed: string, fault: FaultCase): FaultRun {
  let start: { turns: number; seconds: number } | null = null;
  let named: { turns: number; seconds: number } | null = null;
  let stoodSince: number | null = null;
  let readings = 0;
  const wait = restSeconds(fault.knowledge.pulsesPerTurn);
  const { state } = tracedRun(
    fault.scenario,
    seed,
    fault.course,
    fault.knowledge,
    (trace, { reading, turns }, drill) => {
      const seconds = reading.micros / 1e6;
      const stands = drill.truth.turnsPerMinute() === 0;
      stoodSince = stands ? (stoodSince ?? seconds) : null;
      const settled = turns === 0 ? seconds : stoodSince === null ? 0 : seconds - stoodSince - wait;
      if (start === null) {
        const { gramsMetered, gramsCaught } = drill.truth;
        const rest = Math.max(0, settled);
        const now = { turns, seconds, restSeconds: rest, gramsMetered: gramsMetered(), gramsCaught };
        if (fault.effective(now)) start = { turns, seconds };
      }
      if (named === null && ++readings % lookEvery === 0 && traceFindings(trace).some(isRight(fault))) {
        named = { turns, seconds };
      }
    },
  );
  const findings = traceFindings(state);
  return { seed, findings, ...judged(fault, start, named, findings) };
}

/** The flow does pulse and the wheel does rock in these drills: naming it is right, and judged elsewhere. */
export const pulsations: readonly FindingKind[] = ['pulse-per-turn', 'pulse-per-flute'];

function judged(
  fault: FaultCase,
  start: { turns: number; seconds: number } | null,
  named: { turns: number; seconds: number } | null,
  findings: readonly Finding[],
): Omit<FaultRun, 'seed' | 'findings'> {
  const kinds = [...new Set(findings.map((finding) => finding.kind))];
  const wrong = findings
    .filter(({ kind }) => !pulsations.includes(kind) && !fault.alsoTrue.includes(kind))
    .filter((finding) => !isRight(fault)(finding))
    .map((finding) => finding.kind);
  const turns = start && named ? named.turns - start.turns : null;
  const seconds = start && named ? named.seconds - start.seconds : null;
  const stays = findings.some(isRight(fault));
  const inTime = stays && turns !== null && (turns <= mostTurns || seconds! <= mostSeconds);
  const verdict = start === null ? 'not effective' : inTime ? 'in time' : stays && named ? 'late' : 'missed';
  return { verdict, turns, seconds, kinds, wrong: [...new Set(wrong)] };
}

/** What cannot be seen on the sound presets. */
export function limits(): string[] {
  return [...limitsOf(oneRow, 25), ...limitsOf(oneRow, 100), ...limitsOf(sixRows, 25)];
}

/** Kinds that the scale tells. */
export const massKinds: readonly FindingKind[] = [
  'flow-stopped',
  'tube-blocked',
  'leak',
  'bag-knocked',
  'bag-leaned-on',
  'bag-touching',
  'flow-drifts',
  'cell-dead',
  'scale-noisy',
];

/** What is named in a run of a preset. */
export function presetKinds(name: string, seed: number): FindingKind[] {
  const scenario = presets[name]!;
  const course = { beforeSeconds: 4, turns: scenario.stated.turns, afterSeconds: 6 };
  const { state } = tracedRun(scenario, `${name} ${seed}`, course, knowledgeOf(scenario));
  return [...new Set(traceFindings(state).map(({ kind }) => kind))];
}
