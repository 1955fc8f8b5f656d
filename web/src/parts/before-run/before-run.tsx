import { useEffect, useRef } from 'preact/hooks';
import type { BeforeRunView } from '../../../../server/http/before-run-messages.ts';
import {
  beforeRun,
  confirmAndGetReady,
  listWanted,
  readBeforeRun,
} from '../../state/before-run/before-run.ts';
import { turns, when } from '../../state/format.ts';
import { mayUseWheel } from '../../state/people.ts';
import { say } from '../../state/say.ts';
import { doable, live, pending } from '../../state/store.ts';
import { Cautions } from '../cautions.tsx';
import { Told } from '../told.tsx';
import { StateSign } from './state-sign.tsx';

/** How often the stand's own items are looked at again, milliseconds. */
const lookAgain = 2000;

type Seen = BeforeRunView['seen'][number];

/** What the stand sees of this item, in words. */
function seenWords({ item, state, figure: value, at }: Seen): string {
  const words = say.beforeRun.seen;
  if (item === 'scale') {
    return state === 'good' ? words.scale.good({ days: Math.floor(value ?? 0) }) : words.scale[state];
  }
  if (item === 'wheel') {
    const seen = { turns: turns(value ?? 0) };
    return state === 'good' || state === 'open' ? words.wheel[state](seen) : words.wheel[state];
  }
  if (item === 'stop-button') {
    return state === 'good' ? words[item].good({ when: when(at ?? '') }) : words[item][state];
  }
  return words[item][state];
}

function SeenItem({ seen }: { seen: Seen }) {
  const { name, why } = say.beforeRun.seen[seen.item];
  return (
    <li class={`seen seen-${seen.state}`}>
      <StateSign state={seen.state} />
      <div>
        <b>{name}</b> <span>{seenWords(seen)}</span>
        {seen.state !== 'good' && <small>{why}</small>}
      </div>
    </li>
  );
}

function Asked({ items, brief = false }: { items: BeforeRunView['asked']; brief?: boolean }) {
  return (
    <ul class="asked-list">
      {items.map((item) => (
        <li key={item}>
          <b>{say.beforeRun.asked[item].name}</b>
          {!brief && <small>{say.beforeRun.asked[item].why}</small>}
        </li>
      ))}
    </ul>
  );
}

/** The whole list, to be looked over. */
function ToConfirm({ items }: { items: BeforeRunView['asked'] }) {
  const title = useRef<HTMLHeadingElement>(null);
  const wanted = listWanted.value;
  useEffect(() => {
    if (wanted === 0) return;
    title.current?.focus();
    title.current?.scrollIntoView({ block: 'start' });
  }, [wanted]);
  return (
    <>
      <h3 ref={title} tabIndex={-1}>
        {say.beforeRun.askedTitle}
      </h3>
      <p class="help" role="status">
        {wanted > 0 ? say.beforeRun.notYet : say.beforeRun.untilThen}
      </p>
      <Asked items={items} />
    </>
  );
}

/** The list's one button: in sight as long as the list is. */
function Confirm({ items }: { items: BeforeRunView['asked'] }) {
  const ready = doable.value.allowed.arm && pending.value === null && mayUseWheel.value;
  return (
    <p class="before-run-confirm">
      <button type="button" disabled={!ready} onClick={() => void confirmAndGetReady(items)}>
        {say.beforeRun.confirm}
      </button>
    </p>
  );
}

/** What getting ready says, once the whole list has been confirmed. */
function Again({ view }: { view: BeforeRunView }) {
  return (
    <>
      <p>{say.beforeRun.againIntro}</p>
      <Asked items={view.asked} brief />
      <p>{say.beforeRun.confirmedAt({ when: when(view.confirmedAt ?? '') })}</p>
    </>
  );
}

/** The short check before the wheel turns; until it is read, and where the service has none, the usual cautions. */
export function BeforeRun() {
  const { plan, link } = live.value;
  const board = link?.board?.name ?? null;
  useEffect(() => {
    void readBeforeRun();
    const timer = setInterval(() => void readBeforeRun(), lookAgain);
    return () => clearInterval(timer);
  }, [plan, board]);
  const view = beforeRun.value;
  if (plan === null) return null;
  if (view === null) return <Cautions mode={plan.mode} />;
  return (
    <aside class="cautions before-run" aria-labelledby="before-run-title">
      <h2 id="before-run-title">{say.beforeRun.title}</h2>
      <div class="before-run-parts">
        <div>
          <h3>{say.beforeRun.seenTitle}</h3>
          <ul class="seen-list">
            {view.seen.map((seen) => (
              <SeenItem key={seen.item} seen={seen} />
            ))}
          </ul>
          {view.trouble !== null && (
            <p class="note" role="alert">
              <Told>{view.trouble}</Told>
            </p>
          )}
        </div>
        <div>{view.toConfirm ? <ToConfirm items={view.asked} /> : <Again view={view} />}</div>
      </div>
      {view.toConfirm && <Confirm items={view.asked} />}
      <p>
        {plan.mode === 'motor' && `${say.beforeRun.software} `}
        {say.caution.more}
      </p>
    </aside>
  );
}
