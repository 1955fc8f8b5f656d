import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { CalibrationView } from '../../../server/http/calibration-messages.ts';
import { aboutTarget } from '../state/marks.ts';
import { say } from '../state/say.ts';
import { system } from '../state/store.ts';
import { toldWords } from '../state/told.ts';
import { shown } from '../state/units.ts';
import { markWords, rateNumber, rateWords, stretchWords } from './rate-words.ts';

const words = say.setting.marks;
type Row = NonNullable<CalibrationView['advice']>['chart'][number];

function Heads({ names }: { names: readonly string[] }) {
  return (
    <thead>
      <tr>
        {names.map((name) => (
          <th key={name} scope="col">
            {name}
          </th>
        ))}
      </tr>
    </thead>
  );
}

/** How a figure is known: the word first, then the rest of the sentence where it says more. */
function Known({ known, words: sentence }: Pick<Row, 'known' | 'words'>) {
  const word = words.words[known];
  const told = toldWords(sentence);
  const rest = told.startsWith(word) ? told.slice(word.length) : `: ${told}`;
  return (
    <>
      <b>{word}</b>
      {rest}
    </>
  );
}

/** Rows of marks; the one nearest to the target is named. */
export function MarkRows({ rows, nearest }: { rows: readonly Row[]; nearest: number | null }) {
  const { columns } = words;
  return (
    <table class="marks-table">
      <Heads
        names={[
          columns.setting,
          `${columns.rate}, ${shown[system.value].rate}`,
          columns.interval,
          columns.known,
        ]}
      />
      <tbody>
        {rows.map(({ setting, rate, known, words: sentence }) => (
          <tr
            key={setting}
            class={known === 'out of range' ? 'beyond' : setting === nearest ? 'nearest' : ''}
          >
            <th scope="row">{markWords(setting)}</th>
            <td>{rateNumber(rate.value)}</td>
            <td>{span(rateNumber(Math.max(0, rate.low)), rateNumber(rate.high))}</td>
            <td>
              <Known known={known} words={sentence} />
              {setting === nearest && <b>, {words.target}</b>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const span = (low: string, high: string) => `${low} – ${high}`;

function Rounds({ rounds }: { rounds: CalibrationView['rounds'] }) {
  const { roundColumns: columns } = words;
  return (
    <table class="marks-table">
      <Heads names={[columns.rate, columns.setting, columns.interval, columns.known]} />
      <tbody>
        {rounds.map(({ rate, setting, interval, known, words: sentence }) => (
          <tr key={rate} class={known === 'out of range' ? 'beyond' : ''}>
            <th scope="row">{rateWords(rate)}</th>
            <td>{setting === null ? words.noMark : markWords(setting)}</td>
            <td>{interval === null ? say.live.none : span(...stretchWords(interval.low, interval.high))}</td>
            <td>
              <Known known={known} words={sentence} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Folded, and made only once it was opened: a scale may have a thousand marks. */
function Folded({ title, children }: { title: string; children: () => ComponentChildren }) {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{title}</summary>
      {open && children()}
    </details>
  );
}

/** The mark whose rate comes nearest to the target, or null where there is none. */
export const nearestMark = ({ advice, targetGramsPerSquareMetre: target }: CalibrationView): number | null =>
  (advice?.chart ?? []).reduce<Row | null>(
    (best, row) =>
      best === null || Math.abs(row.rate.value - target) < Math.abs(best.rate.value - target) ? row : best,
    null,
  )?.setting ?? null;

/** The setting chart: the rate at the marks about the target, the others folded; and which setting gives which round rate. */
export function MarksTable({ view }: { view: CalibrationView }) {
  const chart = view.advice?.chart ?? [];
  const { near, more } = aboutTarget(chart, view.targetGramsPerSquareMetre);
  const nearest = nearestMark(view);
  const rounds = system.value === 'us' ? view.roundsPerAcre : view.rounds;
  return (
    <section class="panel" aria-labelledby="marks-title">
      <h2 id="marks-title">{words.title}</h2>
      {chart.length === 0 && <p>{words.none}</p>}
      {chart.length > 0 && <MarkRows rows={near} nearest={nearest} />}
      {more > 0 && (
        <Folded title={words.all({ count: chart.length })}>
          {() => <MarkRows rows={chart} nearest={nearest} />}
        </Folded>
      )}
      {rounds.length > 0 && <Folded title={words.rounds}>{() => <Rounds rounds={rounds} />}</Folded>}
    </section>
  );
}
