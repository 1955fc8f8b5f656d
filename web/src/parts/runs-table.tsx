import type { RunSummary } from '../../../server/http/messages.ts';
import { figure, grams, turns, when } from '../state/format.ts';
import { address } from '../state/route.ts';
import { system, texts } from '../state/store.ts';
import { fromSi, shown } from '../state/units.ts';

function Row({ run }: { run: RunSummary }) {
  const unit = shown[system.value].rate;
  const { figures, plan } = run;
  const rate = figures?.rate;
  const show = (si: number) => figure(fromSi(si, 'rate', unit));
  const caught =
    figures === null || figures.grams === null
      ? texts.live.none
      : texts.result.caught(grams(figures.grams), turns(figures.turnsDone));
  return (
    <tr>
      <td>
        <a href={address('runs', run.id)} aria-label={texts.runs.open(when(run.startedAt))}>
          {when(run.startedAt)}
        </a>
        {run.demo && <b class="demo-mark">{texts.runs.demo}</b>}
      </td>
      <td data-name={texts.runs.columns.setting}>{plan.drill.setting || texts.live.none}</td>
      <td data-name={texts.runs.columns.caught}>{caught}</td>
      <td data-name={texts.runs.columns.rate}>
        {rate ? (
          <>
            <b>{show(rate.gramsPerSquareMetre)}</b> {unit}{' '}
            <small>{texts.live.interval(show(rate.low), show(rate.high))}</small>
          </>
        ) : (
          texts.live.none
        )}
      </td>
      <td data-name={texts.runs.columns.outcome}>
        {figures?.outcome ? texts.outcomes[figures.outcome] : texts.runs.unclosed}
      </td>
    </tr>
  );
}

/** Runs on record, one a row; on a narrow screen one a block. */
export function RunsTable({ runs }: { runs: readonly RunSummary[] }) {
  const { columns } = texts.runs;
  return (
    <table class="runs">
      <thead>
        <tr>
          {Object.values(columns).map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {runs.map((run) => (
          <Row key={run.id} run={run} />
        ))}
      </tbody>
    </table>
  );
}
