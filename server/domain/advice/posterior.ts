import { type Evidence, type Gathered, gather } from './evidence.ts';
import { type Hypothesis, hypothesesFor, mild, type Shape, straight } from './hypotheses.ts';
import { type NormalPosterior, type NormalPrior, normalPosterior, type Observation } from './linear-model.ts';
import type { AdviceRequest } from './types.ts';

/**
 * Belief about the rate at every setting: a finite mixture of straight and bent lines, each solved in closed form. In a component the
 * spread from run to run (repeatability) is taken as known; the components differ in it, in whether a bend is allowed, and in whether one
 * hand-counted run has a turn too many or too few. Their weights are the evidence that the runs give them (Bayesian model averaging:
 * Gelman et al., Bayesian Data Analysis, 3rd ed., 7.4, from memory). A mixture over the unknown spread has the heavy tails of Student's t
 * without its restriction to equal doubts.
 *
 * Unknowns, in units of the target rate: offset, slope, bend along u (0 where the meter is closed, 1 about the setting sought), then
 * where the lever really stood (marks), then a factor and an offset for each group of rates from elsewhere.
 */
export interface CurvePosterior {
  components: readonly Component[];
  /** g/m² of one unit of rate. */
  targetRate: number;
  closedAt: number;
  /** Marks of one unit of u. */
  unit: number;
  /** Index of the unknown that says where the lever stands now, or null. */
  standing: number | null;
  standingSetting: number | null;
  leverPlay: number;
  /** Relative variance that no run takes away: what all runs share, and rows. */
  fixedVariance: number;
  gathered: Gathered;
}

/** One line or bend with its weight. */
export interface Component extends NormalPosterior {
  weight: number;
  repeatability: number;
  bend: boolean;
  /** Name of the run that this component takes as miscounted, or null. */
  miscounted: string | null;
}

/** The slope is free: its spread in units of the proportional one. */
const freeSlope = 3;

/** No rate is known better than to a ten-thousandth of the target: keeps the sums well-conditioned. */
const leastVariance = 1e-8;
/** Noise is that of a rate of at least this share of the target, however little was caught. */
const leastRate = 0.05;
/** Components lighter than this change nothing that is shown. */
const lightest = 1e-3;

/** Index of the first unknown after offset, slope and bend. */
const firstLatent = 3;

interface Layout {
  gathered: Gathered;
  request: AdviceRequest;
  unit: number;
  /** Unknown of each placement that has one. */
  leverUnknown: ReadonlyMap<number, number>;
  size: number;
}

/** Belief after all that is known; null when there is no rate at all to go by. The request must have passed `checkRequest`. */
export function curvePosterior(request: AdviceRequest): CurvePosterior | null {
  const gathered = gather(request);
  if (gathered.evidence.length === 0) return null;
  const layout = layOut(gathered, request);
  const fitted = steadyFit(layout);
  const components = weighed(
    hypothesesFor(gathered, request.prior).map((hypothesis) => solve(layout, hypothesis, fitted)),
  );
  const { standing } = gathered;
  return {
    components,
    targetRate: request.target.rate,
    closedAt: request.scale.closedAt,
    unit: layout.unit,
    standing: standing === null ? null : layout.leverUnknown.get(standing.placement)!,
    standingSetting: standing?.setting ?? null,
    leverPlay: request.scale.leverPlay,
    fixedVariance: request.common.standard ** 2 + (request.rows ?? 0) ** 2,
    gathered,
  };
}

/** A placement needs an unknown of its own where several runs share it or the lever stands there still; else it is mere noise. */
function layOut(gathered: Gathered, request: AdviceRequest): Layout {
  const counts = new Map<number, number>();
  for (const { placement } of gathered.evidence) {
    if (placement !== null) counts.set(placement, (counts.get(placement) ?? 0) + 1);
  }
  const leverUnknown = new Map<number, number>();
  for (const [placement, count] of counts) {
    if (count > 1 || placement === gathered.standing?.placement) {
      leverUnknown.set(placement, firstLatent + leverUnknown.size);
    }
  }
  const size = firstLatent + leverUnknown.size + 2 * gathered.groups.length;
  return { gathered, request, unit: unitOf(gathered.evidence, request), leverUnknown, size };
}

/** Marks from the closed mark to about the setting sought: by proportion from the rate that is nearest to the target. */
function unitOf(evidence: readonly Evidence[], { scale, target }: AdviceRequest): number {
  const span = scale.high - scale.closedAt;
  const own = evidence.filter(({ group }) => group === null);
  const known = own.length > 0 ? own : evidence;
  const far = ({ rate }: Evidence) => Math.abs(Math.log(rate / target.rate));
  const nearest = known.reduce((best, each) => (far(each) < far(best) ? each : best));
  const unit = ((nearest.setting - scale.closedAt) * target.rate) / nearest.rate;
  return Math.min(10 * span, Math.max(0.02 * span, unit > 0 ? unit : span / 2));
}

/** What the runs' variances are reckoned from: rate and slope at each of them as a first solution sees them. */
interface Fitted {
  rates: readonly number[];
  slopes: readonly number[];
}

/**
 * Variances are relative, so they need the true rates, which the fit gives: three rounds with the stated repeatability, starting from the
 * rates as seen. All components then use the same, so that their evidence can be compared.
 */
function steadyFit(layout: Layout): Fitted {
  const { evidence } = layout.gathered;
  const { target, prior, scale } = layout.request;
  const seen = evidence.map(({ rate }) => rate / target.rate);
  let fitted: Fitted = { rates: seen, slopes: seen.map(() => 1 / layout.unit) };
  const hypothesis = { repeatability: prior.repeatability, shape: mild, miscounted: null, logPrior: 0 };
  for (let round = 0; round < 3; round += 1) {
    const { mean } = solve(layout, hypothesis, fitted);
    const [offset = 0, slope = 0, bend = 0] = mean;
    const us = evidence.map(({ setting }) => (setting - scale.closedAt) / layout.unit);
    fitted = {
      // Never far below what was seen: a small fitted rate must not turn a run into a certainty.
      rates: us.map((u, i) => Math.max(offset + u * (slope + u * bend), 0.5 * seen[i]!, leastRate)),
      slopes: us.map((u) => Math.max(0.1, slope + 2 * u * bend) / layout.unit),
    };
  }
  return fitted;
}

function solve(layout: Layout, hypothesis: Hypothesis, fitted: Fitted): Component {
  const observations = layout.gathered.evidence.map((each, i) =>
    observe(layout, hypothesis, each, fitted.rates[i]!, fitted.slopes[i]!),
  );
  const posterior = normalPosterior(observations, priorFor(layout, hypothesis.shape));
  const { repeatability, shape, miscounted, logPrior } = hypothesis;
  const weight = posterior.logEvidence + logPrior;
  return {
    ...posterior,
    weight,
    repeatability,
    bend: shape !== straight,
    miscounted: miscounted?.name ?? null,
  };
}

function observe(
  layout: Layout,
  { repeatability, miscounted }: Hypothesis,
  each: Evidence,
  rate: number,
  slope: number,
): Observation {
  const { scale, target } = layout.request;
  const counted = miscounted?.name === each.name && each.group === null ? miscounted.factor : 1;
  const value = (each.rate / target.rate) * counted;
  const u = (each.setting - scale.closedAt) / layout.unit;
  const coefficients = new Array<number>(layout.size).fill(0);
  coefficients[0] = 1;
  coefficients[1] = u;
  coefficients[2] = u * u;
  let variance = (each.variance + repeatability ** 2) * rate ** 2;
  const lever = each.placement === null ? undefined : layout.leverUnknown.get(each.placement);
  if (lever === undefined) variance += (slope * scale.leverPlay) ** 2;
  else coefficients[lever] = slope;
  if (each.group !== null) {
    const first = firstLatent + layout.leverUnknown.size + 2 * each.group;
    coefficients[first] = value;
    coefficients[first + 1] = 1;
  }
  return { coefficients, value, variance: variance + leastVariance };
}

function priorFor({ request, leverUnknown, gathered, size }: Layout, shape: Shape): NormalPrior {
  const spreads: number[] = [shape.offset, freeSlope, shape.bend];
  for (let lever = 0; lever < leverUnknown.size; lever += 1) spreads.push(request.scale.leverPlay + 1e-9);
  for (const { factor, offset } of gathered.groups) spreads.push(factor, offset);
  const mean = new Array<number>(size).fill(0);
  mean[1] = 1;
  return { mean, variance: spreads.map((spread) => spread ** 2) };
}

/** Weights from logarithms to shares that sum to 1; the lightest dropped. */
function weighed(components: readonly Component[]): Component[] {
  const most = Math.max(...components.map(({ weight }) => weight));
  const heavy = components.filter(({ weight }) => weight - most > Math.log(lightest));
  const total = heavy.reduce((sum, { weight }) => sum + Math.exp(weight - most), 0);
  return heavy.map((each) => ({ ...each, weight: Math.exp(each.weight - most) / total }));
}
