import { useEffect } from 'preact/hooks';
import type { CheckNow, KeptCheck, StandCheckAnswer } from '../../../server/http/stand-messages.ts';
import { date } from '../state/format.ts';
import { say } from '../state/say.ts';
import {
  beginCheck,
  dropCheck,
  readCheck,
  standCheck,
  standCheckBusy,
  standCheckTrouble,
} from '../state/stand-check.ts';
import { live } from '../state/store.ts';
import { CheckResult } from './stand-check-results.tsx';
import { CheckStep } from './stand-check-step.tsx';
import { Told } from './told.tsx';

const words = say.standCheck;

/** How often the check is looked at again, milliseconds: while one is under way, and else. */
const lookAgain = { busy: 400, idle: 5000 };

/** What to do where the board's firmware is not the one that comes with this program. */
export function FirmwareNote({ firmware }: { firmware: StandCheckAnswer['firmware'] }) {
  if (firmware === null || firmware.standing === 'same') return null;
  const { board, shipped, standing } = firmware;
  return (
    <div class="note">
      <p>{words.firmware[standing]({ board, shipped })}</p>
      {standing === 'older' && (
        <>
          <p>{words.flash}</p>
          <pre lang="en">
            <code>
              avrdude -c arduino -p m328p -P {live.value.link?.path ?? '/dev/ttyUSB0'} -b 115200 -U
              flash:w:firmware-sim/firmware/catchbench-stand.hex:i
            </code>
          </pre>
        </>
      )}
    </div>
  );
}

function Newest({ newest }: { newest: KeptCheck | null }) {
  if (newest === null) return <p>{words.never}</p>;
  const when = { date: date(newest.at), due: date(newest.dueAt) };
  return (
    <>
      <p>{newest.passed ? words.lastPassed(when) : words.lastFailed(when)}</p>
      {newest.due && <p class="fault">{words.dueNow}</p>}
      <p>
        <a href={`./api/stand/checks/${newest.id}/text`} target="_blank" rel="noreferrer">
          {words.print}
        </a>
      </p>
    </>
  );
}

function Idle({ answer }: { answer: StandCheckAnswer }) {
  const connected = live.value.link?.condition === 'connected';
  return (
    <>
      <Newest newest={answer.newest} />
      <p class="help">{words.intro}</p>
      <p class="row">
        <button type="button" disabled={!connected || standCheckBusy.value} onClick={() => void beginCheck()}>
          {words.begin}
        </button>
      </p>
    </>
  );
}

function Ended({ check }: { check: CheckNow }) {
  const { end, passed, kept } = check;
  return (
    <>
      <p class="verdict" role="status">
        {end === 'broken' ? words.broken : passed ? words.passed : words.notPassed}
      </p>
      {kept !== null && <p>{kept.ok ? words.kept : <Told>{kept.sentence}</Told>}</p>}
      <p class="row">
        <button type="button" class="go" disabled={standCheckBusy.value} onClick={() => void dropCheck()}>
          {words.close}
        </button>
      </p>
    </>
  );
}

function Running({ check }: { check: CheckNow }) {
  const before = check.results.filter(({ step }) => check.end !== null || step !== check.step);
  return (
    <>
      {check.end === null ? <CheckStep check={check} /> : <Ended check={check} />}
      {before.length > 0 && (
        <div class="check-results">
          <h3>{words.soFar}</h3>
          {before.map((result) => (
            <CheckResult key={result.step} result={result} open={result.outcome === 'failed'} />
          ))}
        </div>
      )}
      {check.end === null && (
        <p class="row">
          <button
            type="button"
            class="quiet"
            disabled={standCheckBusy.value}
            onClick={() => void dropCheck()}
          >
            {words.giveUp}
          </button>
        </p>
      )}
    </>
  );
}

/** The check of the stand, new or once a year, step by step. */
export function StandCheck() {
  const answer = standCheck.value;
  const underWay = answer?.check != null && answer.check.kept?.ok !== true;
  useEffect(() => {
    void readCheck();
    const timer = setInterval(() => void readCheck(), underWay ? lookAgain.busy : lookAgain.idle);
    return () => clearInterval(timer);
  }, [underWay]);
  if (answer === null) return null;
  return (
    <section class="panel stand-check" aria-labelledby="check-title">
      <h2 id="check-title">{words.title}</h2>
      <FirmwareNote firmware={answer.firmware} />
      <p class="fault" role="alert">
        {standCheckTrouble.value}
      </p>
      {answer.check === null ? <Idle answer={answer} /> : <Running check={answer.check} />}
    </section>
  );
}
