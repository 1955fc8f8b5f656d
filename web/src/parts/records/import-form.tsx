import { useState } from 'preact/hooks';
import { type Imported, importFile } from '../../state/records/api.ts';
import { whyRefused } from '../../state/records/asked.ts';
import { say } from '../../state/say.ts';
import { Told } from '../told.tsx';

const words = say.records.keeping;

/** Takes in a file that Catchbench has written. */
export function ImportForm() {
  const [busy, setBusy] = useState(false);
  const [refused, refuse] = useState('');
  const [took, take] = useState<Imported | null>(null);
  const read = async (file: File | undefined) => {
    if (file === undefined) return;
    setBusy(true);
    refuse('');
    take(null);
    const answer = await importFile(file);
    setBusy(false);
    if (answer.ok) take(answer.value);
    else refuse(whyRefused(answer));
  };
  return (
    <section class="panel" aria-labelledby="in-title">
      <h3 id="in-title">{words.in}</h3>
      <p class="help">{words.inIntro}</p>
      <div class="field">
        <label for="import-file">{words.file}</label>
        <input
          id="import-file"
          type="file"
          accept=".json,.csv,application/json,text/csv"
          disabled={busy}
          aria-describedby="import-told"
          onChange={(event) => void read(event.currentTarget.files?.[0])}
        />
        <p class="fault" role="alert">
          {refused}
        </p>
        <div id="import-told" role="status">
          {busy && <p>{words.reading}</p>}
          {took !== null && <p>{words.took(took)}</p>}
          {[...(took?.conflicts ?? []), ...(took?.skipped ?? [])].map((sentence) => (
            <p key={sentence}>
              <Told>{sentence}</Told>
            </p>
          ))}
        </div>
      </div>
    </section>
  );
}
