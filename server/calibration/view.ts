import { advise } from '../domain/advice/advise.ts';
import { roundRateRows, roundRatesAbout } from '../domain/advice/chart.ts';
import type { AdviceRequest } from '../domain/advice/types.ts';
import { DomainError } from '../domain/error.ts';
import { unitSize } from '../domain/units.ts';
import { adviceView, type CalibrationView, roundRates } from '../http/calibration-messages.ts';
import type { StoredRun } from '../records/types.ts';
import type { PlannedScale, RunPlan } from '../run/types.ts';
import { doubtsOf } from './doubts.ts';
import { evidenceOf, runView } from './evidence.ts';
import { confidenceOf, configurationOf } from './identity.ts';
import { type Background, requestFor } from './request.ts';

/** A calibration as the page shows it: pure, from what the records hold. */

export interface CalibrationFacts {
  id: string | null;
  plan: RunPlan;
  /** Oldest first. */
  runs: readonly StoredRun[];
  background: Background;
  /** What the comparison of the rows said, or null. */
  rowsSentence: string | null;
}

const noRounds = { rounds: [], roundsPerAcre: [] };

type Told = Pick<CalibrationView, 'advice' | 'whyNoAdvice' | 'rounds' | 'roundsPerAcre'>;

export function viewOf({ id, plan, runs, background, rowsSentence }: CalibrationFacts): CalibrationView {
  const named = runs.map((run, index) => ({ run, name: `run ${index + 1}` }));
  const evidence = named.flatMap(({ run, name }) => evidenceOf(run, name, plan) ?? []);
  const asked = requestFor(plan, evidence, background);
  const told: Told = asked.ok ? tell(asked.request) : { advice: null, whyNoAdvice: asked.why, ...noRounds };
  const { drill, seed, target } = plan;
  return {
    id,
    drillName: drill.name,
    configuration: configurationOf(plan),
    seedName: seed.name,
    targetGramsPerSquareMetre: target.gramsPerSquareMetre,
    tolerance: target.tolerance,
    confidence: confidenceOf(plan),
    scale: drill.scale ? scaleView(drill.scale) : null,
    runs: named.map(({ run, name }) => runView(run, name, plan)),
    ...told,
    past: background.past.map(({ name }) => name),
    printedChart: (background.chart?.rows ?? []).map(({ setting, rate }) => ({
      setting,
      gramsPerSquareMetre: rate,
    })),
    rows:
      background.rowsDoubt === null ? null : { doubt: background.rowsDoubt, sentence: rowsSentence ?? '' },
    printedChartBulkDensity: background.chart?.seed.bulkDensity ?? null,
    doubts: doubtsOf(runs, background.rowsDoubt),
  };
}

function scaleView({ low, high, step, marks }: PlannedScale): NonNullable<CalibrationView['scale']> {
  return { low, high, step, ...(marks === undefined ? {} : { marks }) };
}

/** What cannot be computed with is told in a sentence; it must not take the runs off the page. */
function tell(request: AdviceRequest): Told {
  try {
    const advice = advise(request);
    const perAcre = roundRatesAbout(request.target.rate, unitSize.poundPerAcre);
    return {
      advice: adviceView(advice),
      whyNoAdvice: null,
      rounds: roundRates(roundRateRows(request)),
      roundsPerAcre: roundRates(roundRateRows(request, perAcre)),
    };
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    return { advice: null, whyNoAdvice: error.message, ...noRounds };
  }
}
