import { useEffect } from 'preact/hooks';
import type { CheckActBody, CheckNow } from '../../../server/http/stand-messages.ts';
import { stop } from '../state/doing.ts';
import { exact } from '../state/format.ts';
import { say } from '../state/say.ts';
import { actInCheck, judgedNow, standCheckBusy } from '../state/stand-check.ts';
import { CheckMasses } from './stand-check-masses.tsx';
import { CheckFigures, CheckResult } from './stand-check-results.tsx';
import { CheckSettings } from './stand-check-settings.tsx';

const words = say.standCheck;
type Ask = CheckNow['ask'];
type AskCode = keyof typeof words.asks;

/** What is asked, in the page's language; what it has no words for stands in the server's. */
function AskText({ ask }: { ask: Ask }) {
  if (!Object.hasOwn(words.asks, ask.code)) return <span lang="en">{ask.sentence}</span>;
  const text = (
    words.asks as unknown as Record<string, string | ((values: Record<string, string>) => string)>
  )[ask.code as AskCode]!;
  if (typeof text === 'string') return <>{text}</>;
  const values = Object.entries(ask.values).map(([key, value]) => [
    key,
    typeof value === 'number' ? exact(value) : value,
  ]);
  return <>{text(Object.fromEntries(values) as Record<string, string>)}</>;
}

function ActButton({ act, text, kind }: { act: CheckActBody['do']; text: string; kind: 'go' | 'quiet' }) {
  return (
    <button
      type="button"
      class={kind}
      disabled={standCheckBusy.value}
      onClick={() => void actInCheck({ do: act })}
    >
      {text}
    </button>
  );
}

/** The motor turns: Stop here, in the foot of the page, and by Escape. */
function MotorStop() {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'Escape') void stop();
    };
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, []);
  return (
    <button type="button" class="stop" onClick={() => void stop()}>
      {words.stop}
    </button>
  );
}

/** The acts that are a press of a button, the one that goes on first. */
function Acts({ ask }: { ask: Ask }) {
  const open = (act: CheckActBody['do']) => ask.acts.includes(act);
  const own = ask.code === 'settings' || ask.code === 'masses';
  const goes = words.goes as Record<string, string>;
  return (
    <p class="row">
      {open('next') && <ActButton act="next" text={words.next} kind="go" />}
      {open('go') && !own && <ActButton act="go" text={goes[ask.code] ?? words.go} kind="go" />}
      {open('yes') && (
        <ActButton act="yes" text={ask.code === 'motor-clear' ? words.clear : words.yes} kind="go" />
      )}
      {ask.code === 'motor-turning' ? (
        <MotorStop />
      ) : (
        open('no') && <ActButton act="no" text={words.no} kind="quiet" />
      )}
      {open('go') && ask.code === 'settings' && <ActButton act="go" text={words.keepSettings} kind="quiet" />}
      {open('again') && <ActButton act="again" text={words.again} kind="quiet" />}
      {open('skip') && <ActButton act="skip" text={words.skip} kind="quiet" />}
    </p>
  );
}

/** The step in hand: what to do, what can be watched, what came of it. */
export function CheckStep({ check }: { check: CheckNow }) {
  const { ask, step, steps, live } = check;
  const judged = judgedNow(check);
  const place = { number: String(steps.indexOf(step) + 1), all: String(steps.length) };
  return (
    <div class="check-now">
      <p class="help">{words.place(place)}</p>
      <h3>{words.steps[step]}</h3>
      {judged === null ? (
        <p class={step === 'motor' ? 'ask caution' : 'ask'} role="status">
          <AskText ask={ask} />
        </p>
      ) : (
        <CheckResult result={judged} open />
      )}
      <CheckFigures figures={live} />
      {ask.code === 'settings' && <CheckSettings check={check} />}
      {(ask.code === 'masses' || ask.code === 'weighing') && <CheckMasses check={check} />}
      <Acts ask={ask} />
    </div>
  );
}
