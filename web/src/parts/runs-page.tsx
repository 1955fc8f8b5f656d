import { useEffect, useState } from 'preact/hooks';
import type { RunDetail } from '../../../server/http/messages.ts';
import { readRun } from '../state/api.ts';
import { when } from '../state/format.ts';
import { address } from '../state/route.ts';
import { runs, texts } from '../state/store.ts';
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
        <a href={address('runs')}>{texts.runs.back}</a>
      </p>
      {run === null && <p>{texts.runs.loading}</p>}
      {run === 'missing' && <p>{texts.runs.missing}</p>}
      {run !== null && run !== 'missing' && <OneRunBody run={run} />}
    </div>
  );
}

function OneRunBody({ run }: { run: RunDetail }) {
  const { figures, plan, trace } = run;
  return (
    <>
      <h2 class="page-title">
        {texts.runs.open(when(run.startedAt))} {run.demo && <b class="demo-mark">{texts.runs.demo}</b>}
      </h2>
      <PlanStrip plan={plan} title="was" />
      {figures === null ? (
        <p>{texts.runs.unclosed}</p>
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
      <h2 id="runs-title">{texts.runs.title}</h2>
      {list === null && <p>{texts.runs.loading}</p>}
      {list?.length === 0 && <p>{texts.runs.none}</p>}
      {list !== null && list.length > 0 && <RunsTable runs={list} />}
    </section>
  );
}
