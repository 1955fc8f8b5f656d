import { execFileSync } from 'node:child_process';
import { cpus, release, totalmem, type } from 'node:os';

/** One measured figure. `reference` and `ratio` stand where it is measured against something in the same run. */
export interface Figure {
  id: string;
  value: number;
  unit: string;
  reference?: number;
  ratio?: number;
  /** Comparison in words, such as '<= 1.5', of the ratio where there is one, else of the value. */
  aim?: string;
  holds?: boolean;
  /** What was done, for a reader who wants to do it again. */
  how: string;
}

const comparisons: Record<string, (value: number, bound: number) => boolean> = {
  '<=': (value, bound) => value <= bound,
  '>=': (value, bound) => value >= bound,
  '<': (value, bound) => value < bound,
  '>': (value, bound) => value > bound,
};

/** Fills in `ratio` from the reference and `holds` from the aim. Throws RangeError when the aim cannot be read. */
export function judged(figure: Omit<Figure, 'ratio' | 'holds'>): Figure {
  const ratio = figure.reference === undefined ? undefined : figure.value / figure.reference;
  const complete: Figure = { ...figure, ...(ratio === undefined ? {} : { ratio }) };
  if (figure.aim === undefined) return complete;
  const [, operator, bound] = /^(<=|>=|<|>) (-?[\d.]+)$/.exec(figure.aim) ?? [];
  const compare = comparisons[operator ?? ''];
  if (!compare)
    throw new RangeError(`The aim '${figure.aim}' of ${figure.id} is not a comparison with a number.`);
  return { ...complete, holds: compare(ratio ?? figure.value, Number(bound)) };
}

function commit(): string {
  try {
    return execFileSync('git', ['rev-parse', '--short', 'HEAD'], { encoding: 'utf8' }).trim();
  } catch {
    return 'unknown';
  }
}

export function machine(): Record<string, string | number> {
  const cores = cpus();
  return {
    processor: cores[0]?.model.trim() ?? 'unknown',
    cores: cores.length,
    memoryGiB: Math.round(totalmem() / 2 ** 30),
    system: `${type()} ${release()}`,
    node: process.version,
    commit: commit(),
    date: new Date().toISOString().slice(0, 10),
  };
}
