import type { RunSummary } from '../../../server/http/messages.ts';
import { figure, grams, turns, when } from '../state/format.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { system } from '../state/store.ts';
import { fromSi, shown } from '../state/units.ts';

function Row({ run }: { run: RunSummary }) {
  const unit = shown[system.value].rate;
  const { figures, plan } = run;
  const rate = figures?.rate;
  const show = (si: number) => figure(fromSi(si, 'rate', unit));
  const caught =
    figures === null || figures.grams === null
      ? say.live.none
      : say.result.caught({ grams: grams(figures.grams), turns: turns(figures.turnsDone) });
  return (
    <tr>
      <td>
        <a href={address('runs', run.id)} aria-label={say.runs.open({ when: when(run.startedAt) })}>
          {when(run.startedAt)}
        </a>
        {run.demo && <b class="demo-mark">{say.runs.demo}</b>}
      </td>
      <td data-name={say.runs.columns.setting}>{plan.drill.setting || say.live.none}</td>
      <td data-name={say.runs.columns.caught}>{caught}</td>
      <td data-name={say.runs.columns.rate}>
        {rate ? (
          <>
            <b>{show(rate.gramsPerSquareMetre)}</b> {unit}{' '}
            <small>{say.live.interval({ low: show(rate.low), high: show(rate.high) })}</small>
          </>
        ) : (
          say.live.none
        )}
      </td>
      <td data-name={say.runs.columns.outcome}>
        {figures?.outcome ? say.outcomes[figures.outcome] : say.runs.unclosed}
      </td>
    </tr>
  );
}

/** Runs on record, one a row; on a narrow screen one a block. */
export function RunsTable({ runs }: { runs: readonly RunSummary[] }) {
  const { columns } = say.runs;
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
