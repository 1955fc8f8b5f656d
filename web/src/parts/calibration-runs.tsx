import { Fragment } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { CalibrationRunView, CalibrationView } from '../../../server/http/calibration-messages.ts';
import { bringBack, setAside } from '../state/calibrating.ts';
import { grams, when, wholeTurns } from '../state/format.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { pending } from '../state/store.ts';
import { markWords, rateNumber, rateWords } from './rate-words.ts';
import { runName } from './run-name.ts';
import { Told } from './told.tsx';

const words = say.setting.runs;

/** Asks why a run is to be set aside: a reason of the list, or one's own words. */
function AskWhy({ run, close }: { run: CalibrationRunView; close: () => void }) {
  const [chosen, choose] = useState<string | null>(null);
  const [own, write] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const first = useRef<HTMLInputElement>(null);
  useEffect(() => first.current?.focus(), []);
  const send = async (event: Event) => {
    event.preventDefault();
    const why = own.trim() || chosen;
    if (why === null) return setProblem(words.whyMissing);
    const refused = await setAside(run.id, why);
    if (refused === null) close();
    else setProblem(refused);
  };
  return (
    <form class="why" onSubmit={(event) => void send(event)} aria-labelledby="why-title">
      <fieldset>
        <legend id="why-title">{words.ask({ name: runName(run.name) })}</legend>
        <div class="reasons">
          {words.reasons.map((reason, index) => (
            <label key={reason}>
              <input
                ref={index === 0 ? first : null}
                type="radio"
                name="why"
                checked={chosen === reason}
                onChange={() => choose(reason)}
              />
              <span>{reason}</span>
            </label>
          ))}
        </div>
      </fieldset>
      <label for="why-own">{words.other}</label>
      <input id="why-own" value={own} maxLength={400} onInput={(event) => write(event.currentTarget.value)} />
      <p class="fault" aria-live="polite">
        {problem}
      </p>
      <p class="row">
        <button type="submit" disabled={pending.value !== null}>
          {words.setAside}
        </button>
        <button type="button" class="quiet" onClick={close}>
          {words.keep}
        </button>
      </p>
    </form>
  );
}

interface ActProps {
  run: CalibrationRunView;
  /** Takes the focus back that the question had. */
  focus: boolean;
  ask: () => void;
}

function Act({ run, focus, ask }: ActProps) {
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (focus) button.current?.focus();
  }, [focus, run.setAside === null]);
  const name = runName(run.name);
  if (run.setAside !== null) {
    return (
      <button
        ref={button}
        type="button"
        class="quiet"
        disabled={pending.value !== null}
        aria-label={words.bringBackOf({ name })}
        onClick={() => void bringBack(run.id)}
      >
        {words.bringBack}
      </button>
    );
  }
  return (
    <button ref={button} type="button" class="quiet" aria-label={words.setAsideOf({ name })} onClick={ask}>
      {words.setAside}
    </button>
  );
}

function Cells({ run }: { run: CalibrationRunView }) {
  const { columns, sources } = words;
  const { rate } = run;
  return (
    <>
      <td>
        <a href={address('runs', run.id)}>{runName(run.name)}</a> <small>{when(run.at)}</small>
      </td>
      <td data-name={columns.setting}>
        <b>{run.setting === null ? run.settingText || say.live.none : markWords(run.setting)}</b>
      </td>
      <td data-name={columns.caught}>
        {run.grams === null
          ? say.live.none
          : say.result.caught({
              grams: grams(run.grams),
              turns: wholeTurns(Number(run.turns.toFixed(1))),
            })}
      </td>
      <td data-name={columns.rate}>
        {rate === null ? (
          say.live.none
        ) : (
          <>
            <b>{rateWords(rate.value)}</b>{' '}
            <small>{say.live.interval({ low: rateNumber(rate.low), high: rateNumber(rate.high) })}</small>
          </>
        )}
      </td>
      <td data-name={columns.source}>{sources[run.source]}</td>
      <td data-name={columns.model}>{run.counts ? words.counts : <Told>{run.whyNot ?? ''}</Told>}</td>
    </>
  );
}

/** The runs of a calibration, newest first: what each gave, whether it counts and why not, and the ways to change that. */
export function CalibrationRuns({ view }: { view: CalibrationView }) {
  const [asking, ask] = useState<string | null>(null);
  const [asked, setAsked] = useState<string | null>(null);
  const close = () => {
    setAsked(asking);
    ask(null);
  };
  const { columns } = words;
  return (
    <section class="panel" aria-labelledby="calibration-runs-title">
      <h2 id="calibration-runs-title">{words.title}</h2>
      {view.runs.length === 0 && <p>{words.none}</p>}
      {view.runs.length > 0 && (
        <table class="runs">
          <thead>
            <tr>
              {Object.entries(columns).map(([id, name]) =>
                name === '' ? (
                  <td key={id} />
                ) : (
                  <th key={id} scope="col">
                    {name}
                  </th>
                ),
              )}
            </tr>
          </thead>
          <tbody>
            {view.runs.toReversed().map((run) => {
              const open = asking === run.id && run.setAside === null;
              return (
                <Fragment key={run.id}>
                  <tr class={run.counts ? '' : 'aside'}>
                    <Cells run={run} />
                    <td class="act">
                      {!open && <Act run={run} focus={asked === run.id} ask={() => ask(run.id)} />}
                    </td>
                  </tr>
                  {open && (
                    <tr>
                      <td colSpan={7}>
                        <AskWhy run={run} close={close} />
                      </td>
                    </tr>
                  )}
                </Fragment>
              );
            })}
          </tbody>
        </table>
      )}
    </section>
  );
}
