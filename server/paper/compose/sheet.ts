import type { CalibrationRunView } from '../../http/calibration-messages.ts';
import { chartTable } from './chart.ts';
import { codeText, daysOf, madeBy, targetWords, warningsOf } from './common.ts';
import { type Decided, decided, rowsAbout } from './decided.ts';
import { type PaperNumbers, paperNumbers } from './numbers.ts';
import type { KeyFigure, Paper, PaperFacts, PaperSection, PaperTable, PaperWish } from './types.ts';

/** Marks shown about the one nearest to the target. */
const marksShown = 11;

interface Draft {
  facts: PaperFacts;
  wish: PaperWish;
  numbers: PaperNumbers;
  found: Decided;
}

/** The three figures that a buyer looks for: setting, rate, how sure. */
function keysOf({ facts: { view }, wish: { words }, numbers, found }: Draft): KeyFigure[] {
  const { row } = found;
  const unit = numbers.rateUnit;
  return [
    { name: words.setTo, value: numbers.mark(found.setting), unit: '', more: view.configuration },
    ...(row === null
      ? []
      : [
          {
            name: words.gives,
            value: numbers.rate(row.rate.value),
            unit,
            more: words.givesMore({
              low: numbers.rate(row.rate.low),
              high: numbers.rate(row.rate.high),
              unit,
            }),
          },
        ]),
    {
      name: words.chance,
      value: numbers.chance(found.chance),
      unit: '%',
      more: words.chanceMore({
        tolerance: numbers.exact(view.tolerance * 100),
        target: numbers.rateWithUnit(view.targetGramsPerSquareMetre),
      }),
    },
  ];
}

function factsOf({ facts, wish, numbers }: Draft): Paper['facts'] {
  const { words } = wish;
  const { view, plan } = facts;
  const { drill } = plan;
  const rows =
    drill.rowCount == null
      ? numbers.exact(plan.rowsCaught)
      : words.rowsOf({ caught: numbers.exact(plan.rowsCaught), all: numbers.exact(drill.rowCount) });
  return [
    [words.drill, view.drillName],
    [words.configuration, view.configuration],
    [words.seed, view.seedName],
    [words.target, targetWords(facts, wish, numbers)],
    [words.rowSpacing, numbers.length(drill.rowSpacingMetres)],
    [words.circumference, numbers.length(drill.circumferenceMetres)],
    [words.slip, `${numbers.exact(drill.slip * 100)} %`],
    [words.rowsCaught, rows],
    [words.measuredOn, daysOf(facts, wish, numbers)],
  ];
}

/** What the certainty rests on, and what stands most in its way. */
function sureOf({ facts: { view, plan }, wish: { words }, numbers, found }: Draft): string[] {
  const counting = view.runs.filter(({ counts }) => counts);
  const largest = view.doubts?.[0];
  const allCaught = plan.drill.rowCount != null && plan.rowsCaught >= plan.drill.rowCount;
  return [
    words.sureChance({
      tolerance: numbers.exact(view.tolerance * 100),
      target: numbers.rateWithUnit(view.targetGramsPerSquareMetre),
      chance: numbers.chance(found.chance),
      wanted: numbers.exact(view.confidence * 100),
    }),
    words.sureRuns({
      counting: counting.length,
      byHand: counting.filter(({ source }) => source === 'hand').length,
      aside: view.runs.length - counting.length,
    }),
    ...(view.past.length === 0 ? [] : [words.surePast]),
    ...(largest === undefined
      ? []
      : [words.sureLargest({ part: words.parts[largest.part], share: numbers.percent(largest.relative) })]),
    ...(view.rows !== null
      ? [words.sureRows({ share: numbers.percent(view.rows.doubt) })]
      : allCaught
        ? []
        : [words.sureNoRows]),
  ];
}

function measuredTable({ facts: { view }, wish: { words, tell }, numbers }: Draft): PaperTable {
  const rateOf = ({ rate }: CalibrationRunView): string =>
    rate === null
      ? words.none
      : `${numbers.rate(rate.value)} (${numbers.rate(rate.low)} – ${numbers.rate(rate.high)})`;
  return {
    columns: [
      words.run,
      words.mark,
      words.caught,
      words.rate({ unit: numbers.rateUnit }),
      words.source,
      words.counts,
    ],
    rows: view.runs.map((run, index) => ({
      look: run.counts ? 'plain' : 'faint',
      cells: [
        words.runName({ number: numbers.exact(index + 1) }),
        run.setting === null ? run.settingText : numbers.mark(run.setting),
        run.grams === null
          ? words.none
          : words.caughtValue({ grams: numbers.grams(run.grams), turns: numbers.turns(run.turns) }),
        rateOf(run),
        words.sources[run.source],
        run.counts ? words.countsYes : words.countsNo({ why: tell(run.setAside?.why ?? run.whyNot ?? '') }),
      ],
    })),
  };
}

function sectionsOf(draft: Draft): PaperSection[] {
  const { words } = draft.wish;
  const chart = draft.facts.view.advice?.chart ?? [];
  const table = chartTable(
    rowsAbout(chart, draft.found.row?.setting ?? null, marksShown),
    draft.found.setting,
    words,
    draft.numbers,
  );
  const section = (title: string, more: Partial<PaperSection>): PaperSection => ({
    title,
    paragraphs: [],
    points: [],
    tables: [],
    ...more,
  });
  return [
    section(words.sure, { paragraphs: sureOf(draft) }),
    section(words.chart, { tables: [table] }),
    section(words.measured, { tables: [measuredTable(draft)] }),
    section(words.cautions, { points: [...words.cautionList] }),
  ];
}

/** The sheet of a calibration: what is handed over. Null where it has come to no setting yet. */
export function composeSheet(facts: PaperFacts, wish: PaperWish): Paper | null {
  const found = decided(facts.view);
  if (found === null) return null;
  const numbers = paperNumbers(wish, facts.view.scale);
  const { words, language } = wish;
  const draft: Draft = { facts, wish, numbers, found };
  return {
    title: words.sheetTitle,
    language,
    demo: facts.demo,
    warnings: warningsOf(facts, wish, found),
    keys: keysOf(draft),
    facts: factsOf(draft),
    sections: sectionsOf(draft),
    signature: [words.signDrill, words.signBy, words.signature, words.signDate],
    code: { text: codeText(facts, wish, found, numbers), caption: words.codeCaption },
    madeBy: madeBy(facts, wish, numbers),
  };
}
