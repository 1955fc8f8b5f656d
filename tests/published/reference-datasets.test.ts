import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { lagOneAutocorrelation } from '../../server/domain/autocorrelation.ts';
import { oneWay } from '../../server/domain/one-way.ts';
import { leastSquares, polynomialFit } from '../../server/domain/regression.ts';
import { mean, standardDeviation } from '../../server/domain/sample.ts';
import { lineThroughOrigin, straightLine } from '../../server/domain/straight-line.ts';

/*
 * NIST Statistical Reference Datasets, https://www.itl.nist.gov/div898/strd/ : certified values to 15 digits. Where each set was READ stands
 * beside it in data/nist-strd.json.
 *
 * Two computations for each: with the data as doubles, as a program gets them, and as whole numbers of their last printed place, scaled back
 * afterwards. Whole numbers are exact in a double; 107.8681568 is not, and its rounding in the 17th digit is all that the first loses:
 * where seven leading digits are the same in all values, seven digits of a variance are gone before any computation.
 */

interface Regression {
  name: string;
  model: string;
  x: (number | number[])[];
  y: number[];
  xAsPrinted?: string[];
  yAsPrinted: string[];
  certified: {
    estimates: string[];
    standardDeviations: string[];
    residualStandardDeviation: string;
    rSquared: string;
    anova: { regression: { sumOfSquares: string }; residual: { sumOfSquares: string } };
  };
}
interface Univariate {
  name: string;
  dataAsPrinted?: string[];
  certified: { mean: string; sampleStandardDeviation: string; lag1Autocorrelation: string };
}
interface OneWay {
  name: string;
  groupsAsPrinted: Record<string, string[]>;
  certified: Record<'between' | 'within', { sumOfSquares: string }> &
    Record<'fStatistic' | 'rSquared' | 'residualStandardDeviation', string>;
}

const { datasets } = JSON.parse(readFileSync(new URL('data/nist-strd.json', import.meta.url), 'utf8')) as {
  datasets: { kind: string }[];
};
const ofKind = <T>(kind: string) => datasets.filter((set) => set.kind === kind) as unknown as T[];
const regressions = ofKind<Regression>('regression');
const univariates = ofKind<Univariate>('univariate');
const oneWays = ofKind<OneWay>('oneWayAnova');

/** Digits that agree: the logarithm of the relative error, at most 15; for a certified 0, of the error itself. */
function digits(value: number, certified: string): number {
  const wanted = Number(certified);
  const error = Math.abs(value - wanted) / (wanted === 0 ? 1 : Math.abs(wanted));
  return Math.min(15, -Math.log10(error));
}

const table: string[] = [];
afterAll(() =>
  console.info(`digits that agree with the certified ones, fewest of each kind\n${table.join('\n')}`),
);

/** The fewest digits of each kind of figure must reach what the set can hold. */
function reach(set: string, figures: Record<string, number[]>, atLeast: number): void {
  const fewest = Object.entries(figures).map(([kind, found]) => [kind, Math.min(...found)] as const);
  table.push(`${set.padEnd(22)} ${fewest.map(([kind, found]) => `${kind} ${found.toFixed(1)}`).join('  ')}`);
  for (const [kind, found] of fewest) {
    expect(found, `${set}: ${kind}`).toBeGreaterThanOrEqual(atLeast);
  }
}

/** Values as whole numbers of the last place that any of them prints, and that place. */
function wholeNumbers(printed: readonly string[]): { whole: number[]; place: number } {
  const decimals = Math.max(...printed.map((text) => text.split('.')[1]?.replace(/0+$/, '').length ?? 0));
  return { whole: printed.map((text) => Math.round(Number(text) * 10 ** decimals)), place: 10 ** decimals };
}

const degreeOf = (model: string) => (model.includes('x^5') ? 5 : model.includes('x^2') ? 2 : 1);
const isThroughOrigin = (model: string) => model === 'y = B1 x';

function fitOf({ model }: Regression, x: (number | number[])[], y: number[]) {
  if (isThroughOrigin(model)) {
    return leastSquares([x as number[]], y);
  }
  if (Array.isArray(x[0])) {
    const rows = x as number[][];
    return leastSquares([y.map(() => 1), ...rows[0]!.map((_, k) => rows.map((row) => row[k]!))], y);
  }
  return polynomialFit(x as number[], y, degreeOf(model));
}

/** Digits of a regression whose y (and x) were multiplied by the given places. */
function regressionDigits(set: Regression, x: (number | number[])[], y: number[], xPlace = 1, yPlace = 1) {
  const { certified, model } = set;
  const found = fitOf(set, x, y);
  const first = isThroughOrigin(model) ? 0 : 1;
  const power = (j: number) => (isThroughOrigin(model) ? 1 : j);
  const scale = (j: number) => xPlace ** power(j) / yPlace;
  const explained = found.sumsOfSquares.slice(first).reduce((a, b) => a + b) / yPlace ** 2;
  const { regression, residual } = certified.anova;
  return {
    estimates: found.coefficients.map((value, j) => digits(value * scale(j), certified.estimates[j]!)),
    deviations: found.covariance.map((row, j) =>
      digits(Math.sqrt(row[j]!) * scale(j), certified.standardDeviations[j]!),
    ),
    s: [digits(found.spread / yPlace, certified.residualStandardDeviation)],
    'R²': [digits(found.rSquared, certified.rSquared)],
    explained: [digits(explained, regression.sumOfSquares)],
    residual: [digits(found.residualSumOfSquares / yPlace ** 2, residual.sumOfSquares)],
  };
}

describe('linear regression to the certified digits', () => {
  it('has all ten sets', () => {
    expect(regressions.map(({ name }) => name).join(' ')).toBe(
      'Norris Pontius NoInt1 NoInt2 Longley Wampler1 Wampler2 Wampler3 Wampler4 Wampler5',
    );
  });

  it.each(regressions)('$name, as doubles', (set) => {
    reach(set.name, regressionDigits(set, set.x, set.y), 13);
  });

  it.each(regressions)('$name, as whole numbers', (set) => {
    const x = set.xAsPrinted === undefined ? { whole: set.x, place: 1 } : wholeNumbers(set.xAsPrinted);
    const y = wholeNumbers(set.yAsPrinted);
    reach(`${set.name}, whole`, regressionDigits(set, x.whole, y.whole, x.place, y.place), 14.3);
  });

  it('the straight lines are the same figures', () => {
    for (const { x, y, model, certified } of regressions.filter(({ x: [first] }) => !Array.isArray(first))) {
      if (isThroughOrigin(model)) {
        const line = lineThroughOrigin(x as number[], y);
        expect(digits(line.slope, certified.estimates[0]!)).toBeGreaterThan(14);
        expect(digits(line.slopeDoubt.standard, certified.standardDeviations[0]!)).toBeGreaterThan(14);
        expect(digits(line.rSquared, certified.rSquared)).toBeGreaterThan(14);
      } else if (degreeOf(model) === 1) {
        const line = straightLine(x as number[], y);
        expect(digits(line.slope, certified.estimates[1]!)).toBeGreaterThan(13.5);
        expect(digits(line.intercept, certified.estimates[0]!)).toBeGreaterThan(13.5);
        expect(digits(line.interceptDoubt.standard, certified.standardDeviations[0]!)).toBeGreaterThan(13.5);
      }
    }
  });
});

/** The first 5000 digits of pi, by Machin's formula pi = 16 arctan(1/5) - 4 arctan(1/239) in whole numbers. */
function digitsOfPi(): number[] {
  const one = 10n ** 5020n;
  const arctanOfInverse = (n: bigint) => {
    let sum = 0n;
    let term = one / n;
    for (let k = 1n; term !== 0n; k += 2n) {
      sum += (k % 4n === 1n ? term : -term) / k;
      term /= n * n;
    }
    return sum;
  };
  const pi = 16n * arctanOfInverse(5n) - 4n * arctanOfInverse(239n);
  return [...pi.toString().slice(0, 5000)].map(Number);
}

/** The sets that the file describes by a rule. */
function byRule(name: string): string[] {
  if (name === 'PiDigits') {
    const printed = digitsOfPi();
    expect(printed.slice(950, 964).join('')).toBe('81857780532171');
    // A slip in NIST's own file, to which the certified values belong.
    printed[956] = 3;
    return printed.map(String);
  }
  const base = { NumAcc2: 1, NumAcc3: 1_000_000, NumAcc4: 10_000_000 }[name]!;
  return [`${base}.2`, ...Array.from({ length: 1000 }, (_, i) => `${base}.${i % 2 === 0 ? 1 : 3}`)];
}

describe('mean, standard deviation and autocorrelation to the certified digits', () => {
  const univariateDigits = ({ certified }: Univariate, values: number[], place = 1) => ({
    mean: [digits(mean(values) / place, certified.mean)],
    deviation: [digits(standardDeviation(values) / place, certified.sampleStandardDeviation)],
    autocorrelation: [digits(lagOneAutocorrelation(values), certified.lag1Autocorrelation)],
  });
  /** What the doubles of a set can hold: the digits that all its values share are lost. */
  const holds: Record<string, number> = {
    Mavro: 13,
    Michelso: 13.3,
    NumAcc2: 14.1,
    NumAcc3: 9.4,
    NumAcc4: 8.2,
  };

  it.each(univariates)('$name', (set) => {
    const printed = set.dataAsPrinted ?? byRule(set.name);
    reach(set.name, univariateDigits(set, printed.map(Number)), holds[set.name] ?? 14.3);
    const { whole, place } = wholeNumbers(printed);
    reach(`${set.name}, whole`, univariateDigits(set, whole, place), 14.3);
  });
});

describe('one-way analysis of variance to the certified digits', () => {
  const oneWayDigits = ({ certified }: OneWay, groups: number[][], place = 1) => {
    const found = oneWay(groups);
    return {
      between: [digits(found.between.sumOfSquares / place ** 2, certified.between.sumOfSquares)],
      within: [digits(found.within.sumOfSquares / place ** 2, certified.within.sumOfSquares)],
      F: [digits(found.f, certified.fStatistic)],
      s: [digits(found.withinSpread / place, certified.residualStandardDeviation)],
    };
  };
  const holds: Record<string, number> = { SiRstv: 13, AtmWtAg: 10.1 };

  it.each(oneWays)('$name', (set) => {
    const printed = Object.values(set.groupsAsPrinted);
    const groups = printed.map((group) => group.map(Number));
    reach(set.name, oneWayDigits(set, groups), holds[set.name]!);
    const { whole, place } = wholeNumbers(printed.flat());
    let at = 0;
    const wholeGroups = printed.map((group) => {
      at += group.length;
      return whole.slice(at - group.length, at);
    });
    reach(`${set.name}, whole`, oneWayDigits(set, wholeGroups, place), 14.3);
  });
});
