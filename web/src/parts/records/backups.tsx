import { useState } from 'preact/hooks';
import type { Answer } from '../../state/api.ts';
import { exact, when } from '../../state/format.ts';
import {
  type Backup,
  backupPath,
  listBackups,
  makeBackup,
  removeBackup,
  restoreBackup,
  uploadBackup,
} from '../../state/records/api.ts';
import { useAsked, whyRefused } from '../../state/records/asked.ts';
import { momentOfBackup } from '../../state/records/backups.ts';
import { say } from '../../state/say.ts';
import { Confirmed } from './confirmed.tsx';
import { Waiting } from './waiting.tsx';

const words = say.records.keeping;
const megabyte = 1_000_000;

interface Doing {
  busy: boolean;
  /** Carries out a request and tells what came of it. */
  act: <T>(request: Promise<Answer<T>>, told: (value: T) => string, meanwhile?: string) => void;
}

function Row({ backup, doing: { busy, act } }: { backup: Backup; doing: Doing }) {
  const { name, bytes } = backup;
  const made = when(momentOfBackup(name));
  return (
    <li>
      <p>
        <b>{made}</b>{' '}
        <small>{words.size({ figure: exact(Number((bytes / megabyte).toPrecision(2))) })}</small>
      </p>
      <p class="row">
        <a class="button" href={backupPath(name)} download={name}>
          {words.save}
          <span class="unseen"> {made}</span>
        </a>
        <Confirmed
          act={words.restore}
          about={made}
          ask={words.restoreAsk({ when: made })}
          keep={words.restoreKeep}
          disabled={busy}
          onAct={() => act(restoreBackup(name), ({ before }) => words.restored({ before }))}
        />
        <Confirmed
          act={words.removeBackup}
          about={made}
          ask={words.removeBackupAsk({ when: made })}
          keep={words.removeBackupKeep}
          disabled={busy}
          onAct={() => act(removeBackup(name), () => '')}
        />
      </p>
    </li>
  );
}

/** Backups on this computer: made, kept elsewhere, put back. */
export function Backups() {
  const [times, again] = useState(0);
  const [told, tell] = useState('');
  const [refused, refuse] = useState('');
  const [busy, setBusy] = useState(false);
  const asked = useAsked(listBackups, [times]);
  const act: Doing['act'] = (request, told, meanwhile = '') => {
    setBusy(true);
    tell(meanwhile);
    refuse('');
    void request.then((answer) => {
      setBusy(false);
      tell(answer.ok ? told(answer.value) : '');
      if (!answer.ok) refuse(whyRefused(answer));
      again((before) => before + 1);
    });
  };
  const upload = (file: File | undefined) => {
    if (file !== undefined) act(uploadBackup(file), () => '', words.uploading);
  };
  return (
    <section class="panel" aria-labelledby="backups-title">
      <h3 id="backups-title">{words.backups}</h3>
      <p class="row">
        <button type="button" disabled={busy} onClick={() => act(makeBackup(), () => '', words.making)}>
          {words.make}
        </button>
        <span role="status">{told}</span>
      </p>
      <p class="fault" role="alert">
        {refused}
      </p>
      <Waiting asked={asked}>
        {({ folder, backups }) => (
          <>
            <p class="help">{words.backupsIntro({ folder })}</p>
            {backups.length === 0 && <p>{words.noBackups}</p>}
            <ul class="things">
              {backups.map((backup) => (
                <Row key={backup.name} backup={backup} doing={{ busy, act }} />
              ))}
            </ul>
          </>
        )}
      </Waiting>
      <div class="field">
        <label for="backup-file">{words.upload}</label>
        <input
          id="backup-file"
          type="file"
          accept=".db"
          disabled={busy}
          onChange={(event) => upload(event.currentTarget.files?.[0])}
        />
      </div>
    </section>
  );
}
