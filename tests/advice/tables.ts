import type { Fate, Foretold, Said, Way } from './campaign.ts';
import { tolerance } from './methods.ts';

/** Figures and printed tables of a campaign. */

export const share = <T>(all: readonly T[], of: (each: T) => boolean) => all.filter(of).length / all.length;

/** The value below which the `part` of the values lies; values above 0. */
export function quantile(values: readonly number[], part: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? Number.NaN;
}

const percent = (fraction: number) => `${(100 * fraction).toFixed(1)} %`;

/** How one way fared over some drills. */
export interface Summary {
  drills: number;
  median: number;
  /** Share of drills that ended within five runs. */
  withinFive: number;
  runs95: number;
  /** Share whose true error is within tolerance plus half a step, of all drills. */
  right: number;
  /** The same without the half step. */
  rightStrictly: number;
  error95: number;
  limited: number;
  never: number;
}

export function summarize(fates: readonly Fate[], way: Way): Summary {
  const endings = fates.map((fate) => ({ ...fate.endings[way], halfStep: fate.halfStep }));
  const runs = endings.map((each) => (each.how === 'never' ? Number.POSITIVE_INFINITY : each.runs));
  return {
    drills: fates.length,
    median: quantile(runs, 0.5),
    withinFive: share(runs, (each) => each <= 5),
    runs95: quantile(runs, 0.95),
    right: share(endings, ({ error, halfStep }) => Math.abs(error) <= tolerance + halfStep),
    rightStrictly: share(endings, ({ error }) => Math.abs(error) <= tolerance),
    error95: quantile(
      endings.map(({ error }) => Math.abs(error)),
      0.95,
    ),
    limited: share(endings, ({ how }) => how === 'limited'),
    never: share(endings, ({ how }) => how === 'never'),
  };
}

/** A line of the table: the way and its figures. */
export function summaryLine(name: string, s: Summary): string {
  const cells = [
    String(s.drills).padStart(6),
    String(s.median).padStart(7),
    String(s.runs95).padStart(9),
    percent(s.withinFive).padStart(9),
    percent(s.right).padStart(9),
    percent(s.rightStrictly).padStart(9),
    percent(s.error95).padStart(9),
    percent(s.limited).padStart(9),
    percent(s.never).padStart(8),
  ];
  return name.padEnd(34) + cells.join('');
}

export const summaryHead =
  `${''.padEnd(34)}drills median   95 % by   in <= 5   2 %+1/2   in 2 %   95 % of     ended    gave\n` +
  `${''.padEnd(34)}          runs      runs      runs     step            errors <  limited      up`;

/** Stated probability against what came true, in bins. */
export function reliabilityTable(said: readonly Said[]): string[] {
  const edges = [0, 0.1, 0.3, 0.5, 0.6, 0.7, 0.8, 0.85, 0.88, 0.92, 0.95, 1.000001];
  return edges.slice(0, -1).flatMap((low, i) => {
    const bin = said.filter(({ stated }) => stated >= low && stated < edges[i + 1]!);
    if (bin.length === 0) return [];
    const stated = bin.reduce((sum, each) => sum + each.stated, 0) / bin.length;
    const right = share(bin, (each) => each.right);
    return [
      `stated ${percent(stated).padStart(7)}  came true ${percent(right).padStart(7)}  of ${bin.length}`,
    ];
  });
}

/** Foretold and needed runs: mean of each, and how often the forecast was within one. */
export function forecastLine(foretold: readonly Foretold[], runs: number): string {
  const some = foretold.filter((each) => each.runs === runs);
  const mean = (of: (each: Foretold) => number) =>
    some.reduce((sum, each) => sum + of(each), 0) / some.length;
  const near = share(some, ({ said, took }) => Math.abs(said - took) <= 1);
  return `after run ${runs}: foretold ${mean(({ said }) => said).toFixed(2)} more, took ${mean(({ took }) => took).toFixed(2)}; within one: ${percent(near)} of ${some.length}`;
}
