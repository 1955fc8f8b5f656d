import { useEffect, useState } from 'preact/hooks';
import { mayTurn } from '../state/acts.ts';
import { getReady } from '../state/before-run/before-run.ts';
import { settingWaits } from '../state/calibration.ts';
import { act, savePlan, stop } from '../state/doing.ts';
import { chancePercent } from '../state/format.ts';
import { offerOf } from '../state/offer.ts';
import { mayUseWheel } from '../state/people.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { doable, form, live, pending, route } from '../state/store.ts';
import { OfferButton } from './offer.tsx';

/** Throwing a run away is asked back, in place. */
function ThrowAway() {
  const { allowed } = doable.value;
  const [asking, ask] = useState(false);
  useEffect(() => {
    if (!allowed.abort) ask(false);
  }, [allowed.abort]);
  if (!allowed.abort) return null;
  if (!asking) {
    return (
      <button type="button" class="quiet" disabled={pending.value !== null} onClick={() => ask(true)}>
        {say.acts.abort}
      </button>
    );
  }
  const answer = (yes: boolean) => {
    ask(false);
    if (yes) void act('abort');
  };
  return (
    <span class="asked">
      {say.throwAway.ask}
      <button type="button" class="quiet" onClick={() => answer(true)}>
        {say.throwAway.yes}
      </button>
      <button type="button" class="quiet" onClick={() => answer(false)}>
        {say.throwAway.no}
      </button>
    </span>
  );
}

/** The next act where it is not one of the three big buttons. */
function ElsewhereNext() {
  const { next } = doable.value;
  if (next === 'connect' && route.value.place !== 'stand') {
    return (
      <a class="go" href={address('stand')}>
        {say.stand.choose}
      </a>
    );
  }
  if (next !== 'save-plan') return null;
  if (route.value.place !== 'plan') {
    return (
      <a class="go" href={address('plan')}>
        {say.strip.title}
      </a>
    );
  }
  const faulty = Object.keys(form.value?.faults ?? {}).length > 0;
  return (
    <button
      type="button"
      class="go"
      disabled={faulty || pending.value !== null}
      onClick={() => void savePlan()}
    >
      {say.form.save}
    </button>
  );
}

function RunButton({ name }: { name: 'arm' | 'start' }) {
  const { allowed, next } = doable.value;
  return (
    <button
      type="button"
      class={next === name && !settingWaits.value ? 'big next' : 'big'}
      disabled={!allowed[name] || pending.value !== null || !mayUseWheel.value}
      onClick={() => void (name === 'arm' ? getReady() : act(name))}
    >
      {say.acts[name]}
    </button>
  );
}

/**
 * What can be done, at the foot of every place. The three big buttons never change places, so that a hand finds them without looking;
 * Stop is never disabled.
 */
export function ActBar() {
  const turnable = mayTurn(live.value);
  const offer = offerOf(live.value.run);
  const { hint: usual } = doable.value;
  const hint = usual === 'arm-again' && settingWaits.value ? 'use-setting' : usual;
  return (
    <section id="acts" class={turnable ? 'acts acts-live' : 'acts'} aria-label={say.places.run}>
      <div class="hint">
        <p>
          {offer === null
            ? say.hints[hint]
            : say.offer.chance({ percent: chancePercent(offer.chanceInside) })}
        </p>
        <ElsewhereNext />
        <OfferButton />
        <ThrowAway />
      </div>
      <RunButton name="arm" />
      <RunButton name="start" />
      <button
        type="button"
        class={turnable ? 'big stop stop-live' : 'big stop'}
        aria-keyshortcuts="Escape Space"
        onClick={() => void stop()}
      >
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <rect x="4" y="4" width="16" height="16" />
        </svg>
        {say.acts.stop}
        {turnable && <small>{say.live.stopKeys}</small>}
      </button>
    </section>
  );
}
