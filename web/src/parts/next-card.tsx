import type { ComponentChildren } from 'preact';
import { useSetting } from '../state/calibrating.ts';
import { calibration, next } from '../state/calibration.ts';
import type { Tone } from '../state/headline.ts';
import { means, type NextAct } from '../state/next-act.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { live, pending } from '../state/store.ts';
import { markWords, rateNumber, rateWords } from './rate-words.ts';
import { Sign } from './sign.tsx';
import { Told } from './told.tsx';

const words = say.setting;

const tones: Record<NextAct['kind'], Tone> = {
  'no-advice': 'open',
  'first-run': 'rest',
  set: 'care',
  done: 'right',
  settle: 'right',
  'out-of-reach': 'wrong',
};

/** Writes the setting into the plan, or says that it stands there already. */
export function UseSetting({ act }: { act: Extract<NextAct, { setting: number }> }) {
  const plan = live.value.plan;
  const mark = markWords(act.setting);
  if (plan !== null && means(plan.drill.setting, act.setting, plan.drill.scale)) {
    const told = act.kind !== 'set' ? words.plannedDone : act.leverStays ? words.plannedStays : words.planned;
    return <p class="note strong">{told({ mark })}</p>;
  }
  return (
    <button
      type="button"
      class="big go"
      disabled={pending.value !== null}
      onClick={() => void useSetting(act.setting)}
    >
      {words.use({ mark })}
    </button>
  );
}

/** What is expected at the setting, where the curve says so. */
function Expected({ act }: { act: Extract<NextAct, { setting: number }> }) {
  const told = calibration.value?.advice?.next;
  if (told == null || told.setting !== act.setting) return null;
  const { value, low, high } = told.expected;
  return (
    <p class="note">
      {words.expected({ rate: rateWords(value), low: rateNumber(low), high: rateNumber(high) })}
    </p>
  );
}

const sentenceOf = (act: NextAct): string => ('why' in act ? act.why : act.sentence);

function Head({ act, children }: { act: NextAct; children?: ComponentChildren }) {
  return (
    <div class="next-head">
      <Sign tone={tones[act.kind]} />
      <h2 id="next-title" class={'setting' in act ? '' : 'next-word'}>
        {words.heads[act.kind]}
      </h2>
      {'setting' in act && (
        <span class="huge" data-figure="nextSetting">
          {markWords(act.setting)}
        </span>
      )}
      {children}
    </div>
  );
}

/** The one thing to be done now by this calibration, and why. `brief`: on the run page, with the way to the whole story. */
export function NextCard({ brief = false }: { brief?: boolean }) {
  const act = next.value;
  if (act === null) return null;
  const reason = 'reason' in act ? act.reason : null;
  return (
    <section class={`panel next-card next-${act.kind}`} aria-labelledby="next-title">
      <Head act={act}>{'setting' in act && <UseSetting act={act} />}</Head>
      <p class="next-sentence">
        <Told>{sentenceOf(act)}</Told>
      </p>
      {'setting' in act && <Expected act={act} />}
      {!brief && reason !== null && (
        <p>
          <Told>{reason}</Told>
        </p>
      )}
      {act.kind === 'no-advice' && (
        <p>
          <a class="go" href={address('plan', act.field ?? undefined)}>
            {act.field === null ? words.toPlan : words.fillIn}
          </a>
        </p>
      )}
      {brief && (
        <p class="row">
          <a href={address('setting')}>{words.toSetting}</a>
          {(act.kind === 'done' || act.kind === 'settle') && <a href={address('sheet')}>{words.toSheet}</a>}
        </p>
      )}
    </section>
  );
}
