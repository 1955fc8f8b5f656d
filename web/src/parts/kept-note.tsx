import { mayTurn } from '../state/acts.ts';
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

/** Instead of a place that lives on what the server says: that nothing has come from it since the page was opened. */
export function OpenedWithout() {
  return (
    <section class="panel" aria-labelledby="opened-without">
      <h2 id="opened-without">{say.kept.withoutTitle}</h2>
      <p>{say.kept.without}</p>
    </section>
  );
}
