import { mayTurn } from '../state/acts.ts';
import { mayGoDark } from '../state/awake.ts';
import { newVersion, takeNewVersion } from '../state/kept-page.ts';
import { say } from '../state/say.ts';
import { live } from '../state/store.ts';

/** Offers a new version of the page; never while the wheel may turn. */
export function NewVersion() {
  if (!newVersion.value || mayTurn(live.value)) return null;
  return (
    <p class="new-version" role="status">
      <span>{say.kept.newVersion}</span>
      <button type="button" onClick={takeNewVersion}>
        {say.kept.takeIt}
      </button>
    </p>
  );
}

/** That the screen will not stay on by itself, for as long as it matters. */
export function DarkScreen() {
  if (!mayGoDark.value || !mayTurn(live.value)) return null;
  return <p class="demo-note">{say.preferences.screenMayGoDark}</p>;
}

/** Instead of a place that lives on what the server says: that nothing has come from it since the page was opened. */
export function OpenedWithout() {
  return (
    <section class="panel" aria-labelledby="opened-without">
      <h2 id="opened-without">{say.kept.withoutTitle}</h2>
      <p>{say.kept.without}</p>
    </section>
  );
}
