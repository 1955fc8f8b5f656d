import { type CheckState, hasPassed } from './check.ts';
import { checkAgainDays } from './limits.ts';
import type { Figure, StepOutcome } from './types.ts';
import { outcomeWords, remarkSentence, stepTitles } from './words.ts';

/** The check as it is kept and printed. */

export interface CheckReport {
  at: string;
  stand: string;
  firmware: string;
  boot: number;
  by: string;
  passed: boolean;
  dueAt: string;
  steps: {
    step: string;
    outcome: StepOutcome;
    figures: { name: string; value: number; unit: string }[];
    sentences: string[];
  }[];
  note: string;
}

const mostFigures = 60;
const mostSentences = 40;

/** What is kept of a check that is over, done at `at` (ISO 8601, UTC) by `by`. */
export function reportOf(state: CheckState, at: string, by: string): CheckReport {
  const { name, firmware, boot } = state.known.identity;
  const due = new Date(new Date(at).getTime() + checkAgainDays * 86_400_000);
  return {
    at,
    stand: name,
    firmware,
    boot,
    by,
    passed: hasPassed(state),
    dueAt: due.toISOString(),
    steps: state.results.map(({ step, outcome, figures, remarks }) => ({
      step,
      outcome,
      figures: figures.slice(0, mostFigures).map((each) => ({ ...each })),
      sentences: remarks.slice(0, mostSentences).map((each) => remarkSentence(each).slice(0, 400)),
    })),
    note: '',
  };
}

const number = (value: number): string =>
  String(Number(value.toPrecision(value >= 1000 ? Math.ceil(Math.log10(value)) : 4)));

const figureText = ({ name, value, unit }: Figure): string =>
  `${name.replaceAll('-', ' ')} ${number(value)}${unit === '' ? '' : ` ${unit}`}`;

/** The report as lines of text, for a terminal or a printer. */
export function reportText(report: CheckReport): string {
  const date = (moment: string) => moment.slice(0, 10);
  const head = [
    `Check of the stand ${report.stand}, ${date(report.at)}${report.by === '' ? '' : ` by ${report.by}`}`,
    `Firmware ${report.firmware}, boot ${report.boot}. ${report.passed ? 'Passed.' : 'NOT PASSED.'} Next check due ${date(report.dueAt)}.`,
  ];
  const steps = report.steps.flatMap(({ step, outcome, figures, sentences }) => [
    '',
    `${Object.hasOwn(stepTitles, step) ? stepTitles[step as keyof typeof stepTitles] : step}: ${outcomeWords[outcome]}`,
    ...(figures.length === 0 ? [] : [`  ${figures.map(figureText).join('; ')}`]),
    ...sentences.map((sentence) => `  - ${sentence}`),
  ]);
  return [...head, ...steps, '', 'Signature: ______________________', ''].join('\n');
}
