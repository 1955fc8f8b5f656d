import { type GramsPerSquareMetre, gramsPerSquareMetre } from '../units.ts';
import { checkRequest } from './check.ts';
import { rateAt, rateInterval } from './curve.ts';
import { settingFor } from './inverse.ts';
import { type CurvePosterior, curvePosterior } from './posterior.ts';
import { marksOf, nearestMark } from './scale.ts';
import type { AdviceRequest, ChartRow, MarkKnowledge, RoundRateRow, SettingScale } from './types.ts';
import { listWords } from './words.ts';

/** How far beyond the outermost rates a line is still believed: parts of their span, and of their distance from the closed mark. */
const beyond = { ofSpan: 0.25, ofDistance: 0.15, steps: 2 } as const;

interface Range {
  low: number;
  high: number;
  /** How far outside is still 'just outside'. */
  reach: number;
}

function rangeOf(curve: CurvePosterior, scale: SettingScale): Range {
  const settings = curve.gathered.evidence.map(({ setting }) => setting);
  const low = Math.min(...settings);
  const high = Math.max(...settings);
  const distance = Math.abs((low + high) / 2 - scale.closedAt);
  const reach = Math.max(
    beyond.ofSpan * (high - low),
    beyond.ofDistance * distance,
    beyond.steps * scale.step,
  );
  return { low, high, reach };
}

/** How the rate at a setting is known, in a word and in words. */
function knowledgeOf(
  curve: CurvePosterior,
  range: Range,
  setting: number,
): { known: MarkKnowledge; words: string } {
  const here = curve.gathered.evidence.filter(
    (e) => e.group === null && Math.abs(e.setting - setting) < 1e-9,
  );
  if (here.length > 0) {
    const names = [...new Set(here.map(({ name }) => name))];
    const some = names.length > 4 ? `${names.length} runs` : listWords(names);
    return { known: 'measured', words: `measured: ${some}` };
  }
  const own = curve.gathered.evidence.some(({ group }) => group === null);
  const whose = own ? 'the runs' : 'rates from elsewhere';
  if (setting >= range.low && setting <= range.high)
    return { known: 'inferred', words: `inferred, between ${whose}` };
  if (setting >= range.low - range.reach && setting <= range.high + range.reach) {
    return { known: 'inferred', words: `inferred, just outside ${whose}` };
  }
  return { known: 'out of range', words: `out of range: far from ${whose}, a guess at best` };
}

/**
 * The setting chart: the rate at every mark, lowest first, with the interval that holds it with 95 % probability when the lever is set
 * there anew. Marks far from all runs carry figures too, but are called out of range.
 */
export function settingChart(curve: CurvePosterior, scale: SettingScale): ChartRow[] {
  const range = rangeOf(curve, scale);
  return marksOf(scale).map((setting) => ({
    setting,
    rate: rateInterval(rateAt(curve, setting, 'anew')),
    ...knowledgeOf(curve, range, setting),
  }));
}

/** Round rates are about this part of the target apart, and reach this far below and above it, as shares of it. */
const roundRates = { apart: 1 / 12, from: 0.25, to: 2 } as const;

/**
 * Rates 1, 2 or 5 times a power of ten apart, from a quarter of the `target` to twice it. They are round in g/m², and so in kg/ha; or in
 * another `unit`, given as the g/m² that one of it stands for (more than 0): 0.112 for lb/ac.
 */
export function roundRatesAbout(target: number, unit = 1): GramsPerSquareMetre[] {
  return roundFigures(target / unit).map((figure) => gramsPerSquareMetre(figure * unit));
}

function roundFigures(target: number): number[] {
  const least = target * roundRates.apart;
  const power = 10 ** Math.floor(Math.log10(least));
  const step = [1, 2, 5, 10].map((digit) => digit * power).find((size) => size >= least)!;
  const first = Math.ceil((roundRates.from * target) / step - 1e-9);
  const last = Math.floor((roundRates.to * target) / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}

/**
 * The chart read the other way: for each of `rates` (g/m², more than 0; without them round rates about the target) the nearest mark and
 * the interval of the setting. Setting and interval are null where the scale probably does not hold the rate; no rows while there is no
 * rate to go by.
 * @throws DomainError as `advise` does.
 */
export function roundRateRows(
  request: AdviceRequest,
  rates: readonly GramsPerSquareMetre[] = roundRatesAbout(request.target.rate),
): RoundRateRow[] {
  checkRequest(request);
  const curve = curvePosterior(request);
  if (curve === null) return [];
  const { scale } = request;
  const range = rangeOf(curve, scale);
  return rates.map((rate) => {
    const { setting, beyond: end } = settingFor(curve, scale, rate);
    if (setting === null) {
      const words = `out of range: the whole scale gives ${end}`;
      return { rate, setting: null, interval: null, known: 'out of range', words };
    }
    const mark = nearestMark(scale, setting.value);
    return { rate, setting: mark, interval: setting, ...knowledgeOf(curve, range, mark) };
  });
}
