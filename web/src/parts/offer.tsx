import type { RunView } from '../../../server/http/messages.ts';
import { stopAndUse } from '../state/calibrating.ts';
import { early } from '../state/calibration.ts';
import { means, nextAct } from '../state/next-act.ts';
import { texts } from '../state/store.ts';
import { markWords } from './rate-words.ts';
import { chancePercent } from './stop-card.tsx';

const words = texts.offer;

/** While the wheel turns and more turns would not help: says so, and offers to stop and go on elsewhere. It never acts by itself. */
export function Offer({ run }: { run: RunView }) {
  const { phase, verdict } = run.figures;
  if (phase !== 'turning' || verdict == null || verdict.kind === 'open') return null;
  const told = early.value?.runId === run.id ? nextAct(early.value.view) : null;
  const setting = told !== null && 'setting' in told ? told.setting : null;
  return (
    <section class="panel offer" aria-labelledby="offer-title">
      <div>
        <h2 id="offer-title">{words.title}</h2>
        <p class="next-sentence">{verdict.sentence}</p>
        <p class="note">
          {words.chance(chancePercent(verdict.chanceInside))} {words.goOn}
        </p>
      </div>
      {setting !== null && (
        <button type="button" class="big" onClick={() => void stopAndUse(setting)}>
          {(means(run.plan.drill.setting, setting) ? words.stopAndStay : words.stopAndUse)(
            markWords(setting),
          )}
        </button>
      )}
    </section>
  );
}
