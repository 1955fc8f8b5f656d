import { useState } from 'preact/hooks';
import { say } from '../../state/say.ts';

interface PastProps {
  title: string;
  /** The last used first. */
  items: readonly { id: string; name: string; note: string; take: () => void }[];
}

/** So many are shown before someone asks for all. */
const atFirst = 5;

/** What was used before, one touch away. */
export function Past({ title, items }: PastProps) {
  const [all, showAll] = useState(false);
  if (items.length === 0) return null;
  const shown = all ? items : items.slice(0, atFirst);
  return (
    <div class="past">
      <p class="help">{title}</p>
      <ul class="touches">
        {shown.map(({ id, name, note, take }) => (
          <li key={id}>
            <button type="button" onClick={take}>
              {name} {note !== '' && <small>{note}</small>}
            </button>
          </li>
        ))}
        {items.length > shown.length && (
          <li>
            <button type="button" class="quiet" onClick={() => showAll(true)}>
              {say.setup.past.all({ count: items.length })}
            </button>
          </li>
        )}
      </ul>
    </div>
  );
}
