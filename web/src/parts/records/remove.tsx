import { useState } from 'preact/hooks';
import type { Kind } from '../../../../server/http/records-messages.ts';
import { bringBackItem, removeItem } from '../../state/records/api.ts';
import { whyRefused } from '../../state/records/asked.ts';
import { say } from '../../state/say.ts';
import { Confirmed } from './confirmed.tsx';

const words = say.records;

/** Deletes something on record, and undoes it. */
export function Remove({ kind, id, about }: { kind: Kind; id: string; about: string }) {
  const [gone, setGone] = useState(false);
  const [told, tell] = useState('');
  const act = async (remove: boolean) => {
    const answer = await (remove ? removeItem(kind, id) : bringBackItem(kind, id));
    if (answer.ok) setGone(remove);
    tell(answer.ok ? (remove ? words.removed : words.restored) : whyRefused(answer));
  };
  return (
    <p class="row">
      {gone ? (
        <button type="button" onClick={() => void act(false)}>
          {words.undo}
        </button>
      ) : (
        <Confirmed
          act={words.remove}
          about={about}
          ask={words.removeAsk}
          keep={words.removeKeep}
          onAct={() => void act(true)}
        />
      )}
      <span role="status">{told}</span>
    </p>
  );
}
