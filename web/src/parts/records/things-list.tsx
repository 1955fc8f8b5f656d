import type { Item } from '../../../../server/http/records-messages.ts';
import { say } from '../../state/say.ts';
import { live } from '../../state/store.ts';
import { DemoMark } from './demo-mark.tsx';
import { History } from './history.tsx';
import { Remove } from './remove.tsx';

/** Drills or mixes found, each with what became of it. */
export function ThingsList({
  kind,
  items,
}: {
  kind: 'drill' | 'mix';
  items: readonly (Item<'drill'> | Item<'mix'>)[];
}) {
  return (
    <ul class="things">
      {items.map(({ id, fields }) => (
        <li key={id}>
          <h3>
            {fields.name} {live.value.demo && <DemoMark />}
          </h3>
          {fields.note !== '' && <p>{fields.note}</p>}
          <History kind={kind} id={id} about={fields.name} />
          <Remove kind={kind} id={id} about={fields.name} />
        </li>
      ))}
      {items.length === 0 && <li>{say.records.nothing}</li>}
    </ul>
  );
}
