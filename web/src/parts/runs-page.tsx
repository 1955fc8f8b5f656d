import { useEffect, useState } from 'preact/hooks';
import type { RunDetail } from '../../../server/http/messages.ts';
import { readRun } from '../state/api.ts';
import { when } from '../state/format.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { runs } from '../state/store.ts';
import { Board } from './board.tsx';
import { FindingsList } from './findings-list.tsx';
import { PlanStrip } from './plan-strip.tsx';
import { Result } from './result.tsx';
import { RunsTable } from './runs-table.tsx';

/** One run of the records, looked at again. */
function OneRun({ id }: { id: string }) {
  const [run, setRun] = useState<RunDetail | 'missing' | null>(null);
  useEffect(() => {
    let wanted = true;
    setRun(null);
    void readRun(id).then((answer) => {
      if (wanted) setRun(answer.ok ? answer.value : 'missing');
    });
    return () => {
      wanted = false;
    };
  }, [id]);
  return (
    <div class="run">
      <p>
        <a href={address('runs')}>{say.runs.back}</a>
      </p>
      {run === null && <p>{say.runs.loading}</p>}
      {run === 'missing' && <p>{say.runs.missing}</p>}
      {run !== null && run !== 'missing' && <OneRunBody run={run} />}
    </div>
  );
}

function OneRunBody({ run }: { run: RunDetail }) {
  const { figures, plan, trace } = run;
  return (
    <>
      <h2 class="page-title">
        {say.runs.open({ when: when(run.startedAt) })} {run.demo && <b class="demo-mark">{say.runs.demo}</b>}
      </h2>
      <PlanStrip plan={plan} title="was" />
      {figures === null ? (
        <p>{say.runs.unclosed}</p>
      ) : (
        <>
          <Board run={{ figures, plan }} trace={trace} />
          <FindingsList figures={figures} />
          <Result run={{ figures, plan }} />
        </>
      )}
    </>
  );
}

export function RunsPage({ id }: { id: string | null }) {
  if (id !== null) return <OneRun id={id} />;
  const list = runs.value;
  return (
    <section class="panel" aria-labelledby="runs-title">
      <h2 id="runs-title">{say.runs.title}</h2>
      {list === null && <p>{say.runs.loading}</p>}
      {list?.length === 0 && <p>{say.runs.none}</p>}
      {list !== null && list.length > 0 && <RunsTable runs={list} />}
    </section>
  );
}
