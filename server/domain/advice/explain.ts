import type { Doubt } from '../statistics.ts';
import type { Evidence } from './evidence.ts';
import type { CurvePosterior } from './posterior.ts';
import type {
  AdviceRequest,
  CurveSummary,
  Explained,
  Interval,
  NextSetting,
  SettingScale,
  StopVerdict,
} from './types.ts';
import { capital } from './words.ts';

/** Every figure of the advice, unfolded to what it came from. */

type Unit = Explained['unit'];

function leaf(what: string, value: number | null, unit: Unit, from: readonly Explained[] = []): Explained {
  return { what, value, unit, interval: null, from };
}

function spread(
  what: string,
  { value, low, high }: Interval,
  unit: Unit,
  from: readonly Explained[] = [],
): Explained {
  return { what, value, unit, interval: { low, high }, from };
}

function rateNode(each: Evidence): Explained {
  const own = leaf(
    'Its own relative doubt: weighing, turns, seed sampling',
    Math.sqrt(each.variance),
    'fraction',
  );
  const setting = leaf('At setting', each.setting, 'mark');
  const parts = each.group === null ? [setting, own, leaf('Turns', each.turns, 'turns')] : [setting, own];
  const what = each.source === 'hand' ? `${each.name}, weighed by hand` : each.name;
  return leaf(`Rate by ${what}`, each.rate, 'g/m²', parts);
}

/** The rates that the model rests on: runs one by one, rates from elsewhere by where they come from. */
function ratesNodes({ gathered }: CurvePosterior): Explained[] {
  const own = gathered.evidence.filter(({ group }) => group === null).map(rateNode);
  const groups = gathered.groups.map(({ name, factor, offset }, index) => {
    const rows = gathered.evidence.filter(({ group }) => group === index).map(rateNode);
    const doubts = [
      leaf('Relative doubt of its factor: other seed, other season, other configuration', factor, 'fraction'),
      leaf('Doubt of its offset, as a share of the target', offset, 'fraction'),
    ];
    return leaf(`${capital(name)}, brought to this seed’s bulk density`, null, null, [...doubts, ...rows]);
  });
  return [...own, ...groups];
}

function curveNode(curve: CurvePosterior, summary: CurveSummary): Explained {
  const shape = leaf('Probability that the curve is bent', summary.bendProbability, 'fraction');
  return leaf(
    summary.bent ? 'A bent line through the rates' : 'A straight line through the rates',
    null,
    null,
    [
      spread('Change of rate per mark about the setting sought', summary.perMark, 'g/m² per mark'),
      spread('Rate that the line has at the closed mark', summary.offset, 'g/m²'),
      shape,
      spread('Spread from run to run beyond weighing and seed', summary.repeatability, 'fraction'),
      leaf('Runs in the model', summary.runs, 'runs'),
      ...ratesNodes(curve),
    ],
  );
}

function leverNodes(scale: SettingScale): Explained[] {
  return [
    leaf('Step of the scale', scale.step, 'mark'),
    leaf('Play of the lever, one standard deviation', scale.leverPlay, 'mark'),
  ];
}

function commonNodes(common: Doubt, rows: number | null): Explained[] {
  const wheel = leaf(
    'Doubt that all runs share: wheel, row spacing, slip, scale',
    common.standard,
    'fraction',
  );
  const ofRows =
    rows === null
      ? leaf('The rows were never compared: no doubt is reckoned for them', null, null)
      : leaf('Doubt from the rows caught standing for all', rows, 'fraction');
  return [wheel, ofRows];
}

/** The tree under the whole advice. Summary and next are null as in `Advice`. */
export function explainAdvice(
  curve: CurvePosterior | null,
  request: AdviceRequest,
  summary: CurveSummary | null,
  next: NextSetting | null,
  stop: StopVerdict,
): Explained {
  const { target, scale } = request;
  const wanted = leaf('Target', target.rate, 'g/m²', [
    leaf('Tolerance either way', target.tolerance, 'fraction'),
    leaf('Wanted probability of being right', target.confidence, 'fraction'),
  ]);
  if (curve === null || summary === null) return leaf('Nothing to go by yet', null, null, [wanted]);
  const line = curveNode(curve, summary);
  const common = commonNodes(request.common, request.rows);
  const chance = leaf('Probability that the true rate is within tolerance', stop.probability, 'fraction', [
    leaf('At setting', stop.setting, 'mark'),
    wanted,
    line,
    ...common,
    ...leverNodes(scale),
  ]);
  if (next === null) return leaf('The target lies off the scale', null, null, [wanted, line, chance]);
  const sought = spread('Setting at which the line meets the target', next.interval, 'mark', [
    wanted,
    line,
    ...common,
  ]);
  const expected = spread('Rate to expect there', next.expected, 'g/m²');
  const mark = leaf('Mark chosen', next.setting, 'mark', [...leverNodes(scale), expected]);
  return leaf(next.sentence, next.setting, 'mark', [sought, mark, chance]);
}
