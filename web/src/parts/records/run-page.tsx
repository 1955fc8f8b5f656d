import type { RunDetail } from '../../../../server/http/messages.ts';
import { readRun } from '../../state/api.ts';
import { when } from '../../state/format.ts';
import { exportPath } from '../../state/records/api.ts';
import { useAsked } from '../../state/records/asked.ts';
import { address } from '../../state/route.ts';
import { say } from '../../state/say.ts';
import { system } from '../../state/store.ts';
import { Board } from '../board.tsx';
import { FindingsList } from '../findings-list.tsx';
import { PlanStrip } from '../plan-strip.tsx';
import { Result } from '../result.tsx';
import { DemoMark } from './demo-mark.tsx';
import { History } from './history.tsx';
import { Remove } from './remove.tsx';
import { Waiting } from './waiting.tsx';

const words = say.records;

function Body({ run }: { run: RunDetail }) {
  const { id, figures, plan, trace } = run;
  const about = say.runs.open({ when: when(run.startedAt) });
  return (
    <>
      <h2 class="page-title">
        {about} {run.demo && <DemoMark />}
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
      <section class="panel">
        <p class="row">
          <a class="button" href={exportPath({ form: 'json', run: id })} download>
            {words.asJson}
          </a>
          <a class="button" href={exportPath({ form: 'csv', run: id, units: system.value })} download>
            {words.asCsv}
          </a>
        </p>
        <History kind="run" id={id} about={about} />
        {figures !== null && <Remove kind="run" id={id} about={about} />}
      </section>
    </>
  );
}

/** One run of the records, looked at again. */
export function RecordedRun({ id }: { id: string }) {
  const asked = useAsked(() => readRun(id), [id]);
  return (
    <div class="run">
      <p>
        <a href={address('runs')}>{words.back}</a>
      </p>
      <Waiting asked={asked}>{(run) => <Body run={run} />}</Waiting>
    </div>
  );
}
