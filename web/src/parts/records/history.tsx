import { useState } from 'preact/hooks';
import type { FieldChange, Kind } from '../../../../server/http/records-messages.ts';
import { when } from '../../state/format.ts';
import { readHistory } from '../../state/records/api.ts';
import { useAsked } from '../../state/records/asked.ts';
import { fieldName, valueWords, whoWords } from '../../state/records/history.ts';
import { say } from '../../state/say.ts';
import { Waiting } from './waiting.tsx';

const words = say.records;

function Change({ change }: { change: FieldChange }) {
  const { field, before, after, counts, at } = change;
  const columns = words.historyColumns;
  return (
    <tr class={counts ? '' : 'beyond'}>
      <td>{when(at)}</td>
      <td data-name={columns.who}>{whoWords(change)}</td>
      <td data-name={columns.field}>{fieldName(field)}</td>
      <td data-name={columns.before}>{valueWords(field, before)}</td>
      <td data-name={columns.after}>
        <b>{valueWords(field, after)}</b>
        {!counts && ` (${words.overruled})`}
      </td>
    </tr>
  );
}

function Changes({ kind, id }: { kind: Kind; id: string }) {
  const asked = useAsked(() => readHistory(kind, id), [kind, id]);
  return (
    <Waiting asked={asked}>
      {({ changes }) =>
        changes.length === 0 ? (
          <p>{words.history.none}</p>
        ) : (
          <table class="runs">
            <thead>
              <tr>
                {Object.values(words.historyColumns).map((name) => (
                  <th key={name} scope="col">
                    {name}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {changes.map((change) => (
                <Change key={`${change.at} ${change.field} ${String(change.after)}`} change={change} />
              ))}
            </tbody>
          </table>
        )
      }
    </Waiting>
  );
}

/** Who changed what and when, of whichever stand; asked for once someone opens it. */
export function History({ kind, id, about }: { kind: Kind; id: string; about: string }) {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        {words.history.title}
        <span class="unseen"> {words.about({ what: about })}</span>
      </summary>
      {open && <Changes kind={kind} id={id} />}
    </details>
  );
}
