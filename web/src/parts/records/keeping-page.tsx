import { countUnsaved, exportPath, unsavedPath } from '../../state/records/api.ts';
import { useAsked } from '../../state/records/asked.ts';
import { recordsDetail } from '../../state/records/route.ts';
import { address } from '../../state/route.ts';
import { say } from '../../state/say.ts';
import { system } from '../../state/store.ts';
import { Backups } from './backups.tsx';
import { ImportForm } from './import-form.tsx';

const words = say.records.keeping;

/** Runs that the disk would not take, offered for download as long as they are in memory. */
function Unsaved() {
  const asked = useAsked(countUnsaved, []);
  const count = asked.state === 'here' ? (asked.value.store?.unsavedRuns ?? 0) : 0;
  if (count === 0) return null;
  return (
    <section class="sheet-warning">
      <h3>{words.unsaved}</h3>
      <p>{words.unsavedIntro({ count })}</p>
      <p>
        <a class="button" href={unsavedPath} download>
          {words.saveUnsaved}
        </a>
      </p>
    </section>
  );
}

/** The records out and in, and their backups. */
export function KeepingPage() {
  return (
    <div class="records">
      <p>
        <a href={address('runs', recordsDetail({ view: 'search' }))}>{say.records.back}</a>
      </p>
      <h2 class="page-title">{words.title}</h2>
      <Unsaved />
      <div class="two">
        <section class="panel" aria-labelledby="out-title">
          <h3 id="out-title">{words.out}</h3>
          <p class="help">{words.outIntro}</p>
          <p class="row">
            <a class="button" href={exportPath({ form: 'json' })} download>
              {say.records.asJson}
            </a>
            <a class="button" href={exportPath({ form: 'csv', units: system.value })} download>
              {say.records.asCsv}
            </a>
          </p>
        </section>
        <ImportForm />
        <Backups />
      </div>
    </div>
  );
}
