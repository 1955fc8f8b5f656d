import { stopAndUse } from '../state/calibrating.ts';
import { early } from '../state/calibration.ts';
import { means, nextAct } from '../state/next-act.ts';
import { offerOf } from '../state/offer.ts';
import { say } from '../state/say.ts';
import { live } from '../state/store.ts';
import { markWords } from './rate-words.ts';

const words = say.offer;

/** While more turns would not help: offers to stop and go on at another setting. One act among others; nothing happens by itself. */
export function OfferButton() {
  const { run } = live.value;
  if (run === null || offerOf(run) === null || early.value?.runId !== run.id) return null;
  const told = nextAct(early.value.view);
  if (!('setting' in told)) return null;
  const stays = means(run.plan.drill.setting, told.setting, run.plan.drill.scale);
  return (
    <button type="button" onClick={() => void stopAndUse(told.setting)}>
      {(stays ? words.stopAndStay : words.stopAndUse)({ mark: markWords(told.setting) })}
    </button>
  );
}
