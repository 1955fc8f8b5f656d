import type { CalibrationView } from '../../http/calibration-messages.ts';
import { narrowChart } from './chart.ts';
import { codeText, daysOf, madeBy, targetWords, warningsOf } from './common.ts';
import { type ChartRow, decided, rowsAbout } from './decided.ts';
import { type PaperNumbers, paperNumbers } from './numbers.ts';
import type { Paper, PaperFacts, PaperTable, PaperWish, PaperWords } from './types.ts';

/** The setting chart for the lid of the seed box: what somebody with a handful of seed and no computer needs. */

/** So many rows fit on one page in so many columns. */
const columns = 3;
const mostRows = 20 * columns;

/** Every `step`th row, the one sought always among them. */
function thinned(chart: readonly ChartRow[], sought: number): { rows: ChartRow[]; step: number } {
  const step = Math.max(1, Math.ceil(chart.length / mostRows));
  const at = Math.max(
    0,
    chart.findIndex(({ setting }) => setting === sought),
  );
  return { step, rows: chart.filter((_, index) => index % step === at % step) };
}

/** What was measured or can be inferred; where that is little, its surroundings too. */
function shownRows(chart: readonly ChartRow[], sought: number): readonly ChartRow[] {
  const known = chart.filter(({ known }) => known !== 'out of range');
  return known.length >= columns ? known : rowsAbout(chart, sought, mostRows);
}

function inColumns(rows: readonly ChartRow[]): ChartRow[][] {
  const each = Math.ceil(rows.length / columns);
  return Array.from({ length: columns }, (_, column) =>
    rows.slice(column * each, (column + 1) * each),
  ).filter((part) => part.length > 0);
}

function roundsTable(
  rounds: CalibrationView['rounds'],
  words: PaperWords,
  numbers: PaperNumbers,
): PaperTable {
  const known = rounds.filter((row) => row.known !== 'out of range');
  return {
    columns: [words.lidRounded, words.lidSetting, words.lidSpan, words.known],
    rows: (known.length > 0 ? known : rounds).map(({ rate, setting, interval, known }) => ({
      look: known === 'out of range' ? 'faint' : 'plain',
      cells: [
        numbers.rateWithUnit(rate),
        setting === null ? words.lidOff : numbers.mark(setting),
        interval === null ? words.none : numbers.stretch(interval.low, interval.high),
        words.knownWords[known === 'out of range' ? 'beyond' : known],
      ],
    })),
  };
}

/** Null where the calibration has come to no setting yet. */
export function composeLid(facts: PaperFacts, wish: PaperWish): Paper | null {
  const { view } = facts;
  const found = decided(view);
  if (found === null) return null;
  const { words, language } = wish;
  const numbers = paperNumbers(wish, facts.view.scale);
  const sought = found.row?.setting ?? found.setting;
  const rounds = wish.system === 'us' ? view.roundsPerAcre : view.rounds;
  const { rows, step } = thinned(shownRows(view.advice?.chart ?? [], sought), sought);
  const tables = inColumns(rows).map((part) => narrowChart(part, sought, words, numbers));
  return {
    title: words.lidTitle,
    language,
    demo: facts.demo,
    warnings: warningsOf(facts, wish, found),
    keys: [],
    facts: [
      [words.drill, view.drillName],
      [words.configuration, view.configuration],
      [words.seed, view.seedName],
      [words.target, targetWords(facts, wish, numbers)],
      [words.setTo, numbers.mark(found.setting)],
      [words.measuredOn, daysOf(facts, wish, numbers)],
    ],
    sections: [
      ...(rounds.length === 0
        ? []
        : [
            {
              title: words.lidRounds,
              paragraphs: [],
              points: [],
              tables: [roundsTable(rounds, words, numbers)],
            },
          ]),
      { title: words.chart, paragraphs: [words.lidSigns, words.lidEvery({ step })], points: [], tables },
      { title: words.cautions, paragraphs: [], points: words.cautionList.slice(0, 4), tables: [] },
    ],
    signature: [],
    code: { text: codeText(facts, wish, found, numbers), caption: words.codeCaption },
    madeBy: madeBy(facts, wish, numbers),
  };
}
