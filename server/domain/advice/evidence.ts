import type { Doubt } from '../statistics.ts';
import type {
  AdviceRequest,
  CalibrationRun,
  LeftOut,
  PastCalibration,
  PrintedChart,
  RateSource,
  SeedCharacter,
} from './types.ts';
import { markWords } from './words.ts';

/** A rate that the model rests on. */
export interface Evidence {
  name: string;
  source: RateSource;
  setting: number;
  /** g/m², more than 0; of another seed: already brought to this seed's bulk density. */
  rate: number;
  /** Relative variance of its own, repeatability aside. */
  variance: number;
  /** Which setting of the lever it was made at; null for rates from elsewhere. */
  placement: number | null;
  /** Index into `groups` for rates from elsewhere; null for runs of this calibration. */
  group: number | null;
  turns: number;
  miscountChance: number;
}

/** Rates from one earlier calibration or printed chart: they are off together, by a factor and by an offset. */
export interface EvidenceGroup {
  name: string;
  /** Relative doubt of the factor. */
  factor: number;
  /** Doubt of the offset, as a fraction of the target. */
  offset: number;
}

export interface Gathered {
  evidence: Evidence[];
  groups: EvidenceGroup[];
  leftOut: LeftOut[];
  placements: number;
  /** Where the lever stands now, when a run in the model was made there. */
  standing: { placement: number; setting: number } | null;
}

/**
 * Doubts of rates from elsewhere. How far a drill's printed chart may be off: 25 to 50 % (Mississippi State University Extension,
 * publication 3112: chart and actual rate may differ by so much), taken as 1.3 standard deviations at its middle. The others are common
 * practice, no source: the same drill with the same density and seed size repeats within about 5 % from season to season, and what
 * differs in density or seed size carries over in part only.
 */
const elsewhere = {
  chartFactor: 0.28,
  chartOffset: 0.08,
  chartReading: 0.02,
  samePastFactor: 0.05,
  samePastOffset: 0.02,
  otherFactor: 0.5,
  otherOffset: 0.1,
  unknownDensity: 0.15,
  perLogDensity: 0.3,
  perLogSeedMass: 0.06,
} as const;

/** Variance of a mean whose standard deviation was itself estimated: that of Student's t, held finite. */
export function honestVariance({ standard, degreesOfFreedom }: Doubt): number {
  const inflation = degreesOfFreedom > 3 ? degreesOfFreedom / (degreesOfFreedom - 2) : 3;
  return standard ** 2 * (Number.isFinite(degreesOfFreedom) ? inflation : 1);
}

function ratio(now: number | null, then: number | null): number | null {
  return now === null || then === null ? null : now / then;
}

/** What to multiply a rate of the seed `then` by to have that of the seed `now`, and the relative doubt that this adds. */
function carryOver(now: SeedCharacter, then: SeedCharacter): { factor: number; doubt: number } {
  const density = ratio(now.bulkDensity, then.bulkDensity);
  const size = ratio(now.seedGrams, then.seedGrams);
  const ofDensity =
    density === null ? elsewhere.unknownDensity : elsewhere.perLogDensity * Math.abs(Math.log(density));
  const ofSize = size === null ? 0 : elsewhere.perLogSeedMass * Math.abs(Math.log(size));
  return { factor: density ?? 1, doubt: Math.hypot(ofDensity, ofSize) };
}

/** Less than this share of the target is nothing: a few seeds that stuck. */
const nothing = 1e-4;

/** True when a rate is none to speak of. */
export function isNothing(rate: number, { target }: AdviceRequest): boolean {
  return rate < nothing * target.rate;
}

/** Why a run is not in the model, or null when it is. */
function whyLeftOut(run: CalibrationRun, request: AdviceRequest): string | null {
  const { scale } = request;
  if (run.setAside !== null) return `set aside by ${run.setAside.by}: ${run.setAside.why}`;
  if (run.configuration !== scale.configuration) {
    return `made in ${run.configuration}, not in ${scale.configuration}: its settings mean something else`;
  }
  if (run.setting < scale.low || run.setting > scale.high) {
    return `its setting ${markWords(run.setting, scale)} is not on the scale`;
  }
  return isNothing(run.rate, request)
    ? 'nothing was caught: a closed or blocked meter lies on no line'
    : null;
}

/** Number of each run's placement: a run shares that of the run before when the lever was not touched and the setting is the same. */
function placementsOf(runs: readonly CalibrationRun[]): number[] {
  let placement = -1;
  return runs.map((run, index) => {
    const before = runs[index - 1];
    const same =
      before !== undefined &&
      !run.leverMoved &&
      before.setting === run.setting &&
      before.configuration === run.configuration;
    if (!same) placement += 1;
    return placement;
  });
}

function pastEvidence(past: PastCalibration, group: number, request: AdviceRequest) {
  const { factor, doubt } = carryOver(request.seed, past.seed);
  const same = past.configuration === request.scale.configuration;
  const evidence = past.runs.map(
    (run): Evidence => ({
      name: past.name,
      source: 'past',
      setting: run.setting,
      rate: run.rate * factor,
      variance: honestVariance(run.doubt),
      placement: null,
      group,
      turns: 0,
      miscountChance: 0,
    }),
  );
  const ofFactor = same ? elsewhere.samePastFactor : elsewhere.otherFactor;
  const offset = same ? elsewhere.samePastOffset : elsewhere.otherOffset;
  return { evidence, group: { name: past.name, factor: Math.hypot(ofFactor, doubt), offset } };
}

function chartEvidence(chart: PrintedChart, group: number, request: AdviceRequest) {
  const { factor, doubt } = carryOver(request.seed, chart.seed);
  const same = chart.configuration === request.scale.configuration;
  const evidence = chart.rows.map(
    (row): Evidence => ({
      name: 'the printed chart',
      source: 'printed chart',
      setting: row.setting,
      rate: row.rate * factor,
      variance: elsewhere.chartReading ** 2,
      placement: null,
      group,
      turns: 0,
      miscountChance: 0,
    }),
  );
  const ofFactor = same ? elsewhere.chartFactor : elsewhere.otherFactor;
  const name = 'the printed chart';
  return { evidence, group: { name, factor: Math.hypot(ofFactor, doubt), offset: elsewhere.chartOffset } };
}

function addElsewhere(request: AdviceRequest, gathered: Gathered): void {
  for (const past of request.prior.past) {
    if (past.runs.every(({ rate }) => isNothing(rate, request))) continue;
    const { evidence, group } = pastEvidence(past, gathered.groups.length, request);
    gathered.evidence.push(...evidence);
    gathered.groups.push(group);
  }
  const { chart } = request.prior;
  if (chart !== null && !chart.rows.every(({ rate }) => isNothing(rate, request))) {
    const { evidence, group } = chartEvidence(chart, gathered.groups.length, request);
    gathered.evidence.push(...evidence);
    gathered.groups.push(group);
  }
}

/** Sorts what the model may rest on from what it may not, and says why. The request must have passed `checkRequest`. */
export function gather(request: AdviceRequest): Gathered {
  const { runs } = request;
  const placements = placementsOf(runs);
  const gathered: Gathered = {
    evidence: [],
    groups: [],
    leftOut: [],
    placements: (placements[placements.length - 1] ?? -1) + 1,
    standing: null,
  };
  for (const [index, run] of runs.entries()) {
    const why = whyLeftOut(run, request);
    if (why !== null) {
      gathered.leftOut.push({ name: run.name, why });
      continue;
    }
    const placement = placements[index]!;
    const { name, source, setting, rate, turns, miscountChance } = run;
    const variance = honestVariance(run.doubt);
    gathered.evidence.push({
      name,
      source,
      setting,
      rate,
      variance,
      placement,
      group: null,
      turns,
      miscountChance,
    });
    if (placement === gathered.placements - 1) gathered.standing = { placement, setting };
  }
  addElsewhere(request, gathered);
  return gathered;
}
