import type { CalibrationView } from '../../../../server/http/calibration-messages.ts';
import { decided } from '../../../../server/paper/compose/decided.ts';
import { exact, when } from '../../state/format.ts';
import { exportPath, readPaperFacts } from '../../state/records/api.ts';
import { useAsked } from '../../state/records/asked.ts';
import { paperDetail } from '../../state/records/paper.ts';
import { recordsDetail } from '../../state/records/route.ts';
import { address } from '../../state/route.ts';
import { say } from '../../state/say.ts';
import { system } from '../../state/store.ts';
import { MarkRows } from '../marks-table.tsx';
import { markWords, rateWords } from '../rate-words.ts';
import { runName } from '../run-name.ts';
import { Told } from '../told.tsx';
import { calibrationFacts } from './calibration-facts.ts';
import { DemoMark } from './demo-mark.tsx';
import { History } from './history.tsx';
import { Remove } from './remove.tsx';
import { Waiting } from './waiting.tsx';

const words = say.records;

function Runs({ runs }: { runs: CalibrationView['runs'] }) {
  const { columns } = say.setting.runs;
  const heads = [
    columns.name,
    say.runs.columns.when,
    columns.setting,
    columns.caught,
    columns.rate,
    columns.model,
  ];
  return (
    <table class="runs">
      <thead>
        <tr>
          {heads.map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {runs.map((run) => (
          <tr key={run.id}>
            <td>
              <a href={address('runs', run.id)}>{runName(run.name)}</a>
            </td>
            <td data-name={say.runs.columns.when}>{when(run.at)}</td>
            <td data-name={columns.setting}>
              {run.setting === null ? run.settingText : markWords(run.setting)}
            </td>
            <td data-name={columns.caught}>{caughtWords(run)}</td>
            <td data-name={columns.rate}>{run.rate === null ? say.live.none : rateWords(run.rate.value)}</td>
            <td data-name={columns.model}>
              {run.counts ? say.setting.runs.counts : <Told>{run.whyNot ?? ''}</Told>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const caughtWords = ({ grams, turns }: CalibrationView['runs'][number]): string =>
  grams === null
    ? say.live.none
    : say.result.caught({ grams: exact(Number(grams.toFixed(1))), turns: exact(Number(turns.toFixed(1))) });

function Ways({ id }: { id: string }) {
  return (
    <p class="row">
      <a class="button" href={address('sheet', paperDetail({ kind: 'sheet', calibrationId: id }))}>
        {words.sheet}
      </a>
      <a class="button" href={address('sheet', paperDetail({ kind: 'lid', calibrationId: id }))}>
        {words.lid}
      </a>
      <a class="button" href={exportPath({ form: 'json', calibration: id })} download>
        {words.asJson}
      </a>
      <a class="button" href={exportPath({ form: 'csv', calibration: id, units: system.value })} download>
        {words.asCsv}
      </a>
    </p>
  );
}

function Body({ id, view, demo }: { id: string; view: CalibrationView; demo: boolean }) {
  const found = decided(view);
  const about = `${view.drillName}, ${view.seedName}`;
  const chart = view.advice?.chart ?? [];
  const near = found === null ? [] : chart.filter(({ known }) => known !== 'out of range').slice(0, 40);
  return (
    <>
      <h2 class="page-title">
        {about} {demo && <DemoMark />}
      </h2>
      <Ways id={id} />
      <dl class="sheet-facts">
        {calibrationFacts(view).map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <h3>{words.runs}</h3>
      {view.runs.length === 0 ? <p>{words.noRuns}</p> : <Runs runs={view.runs} />}
      {near.length > 0 && (
        <details>
          <summary>{say.setting.marks.title}</summary>
          <MarkRows rows={near} nearest={found?.setting ?? null} />
        </details>
      )}
      <History kind="calibration" id={id} about={about} />
      <Remove kind="calibration" id={id} about={about} />
    </>
  );
}

/** One calibration of the records: what it came to, its runs, and what can be made of it. */
export function CalibrationPage({ id }: { id: string }) {
  const asked = useAsked(() => readPaperFacts(id), [id]);
  return (
    <section class="panel records">
      <p>
        <a href={address('runs', recordsDetail({ view: 'search' }))}>{words.back}</a>
      </p>
      <Waiting asked={asked}>{({ view, demo }) => <Body id={id} view={view} demo={demo} />}</Waiting>
    </section>
  );
}
