import { useEffect, useState } from 'preact/hooks';
import type { Item, Page, StoredRun } from '../../../../server/http/records-messages.ts';
import type { Answer } from '../../state/api.ts';
import { findItems, findRuns, type Search } from '../../state/records/api.ts';
import { whyRefused } from '../../state/records/asked.ts';
import { isNarrowed, searchOf, type Wanted } from '../../state/records/search.ts';
import { say } from '../../state/say.ts';
import { RunsTable } from '../runs-table.tsx';
import { CalibrationsList, type Names } from './calibrations-list.tsx';
import { ThingsList } from './things-list.tsx';

const words = say.records;

/** What was found so far of one kind, and where it goes on. */
interface Found {
  kind: Wanted['kind'];
  items: unknown[];
  next: string | null;
}

const ask = (kind: Wanted['kind'], search: Search): Promise<Answer<Page<unknown>>> =>
  kind === 'run' ? findRuns(search) : findItems(kind, search);

/** Typing goes on: so long nothing is asked. */
const pauseMillis = 200;

/** Asks for what is wanted, page after page. */
function useFound(wanted: Wanted) {
  const [found, setFound] = useState<Found | null>(null);
  const [trouble, setTrouble] = useState('');
  const read = async (search: Search, before: Found | null, isWanted: () => boolean) => {
    const answer = await ask(wanted.kind, search);
    if (!isWanted()) return;
    setTrouble(answer.ok ? '' : whyRefused(answer));
    if (!answer.ok) return;
    const { items, next } = answer.value;
    setFound({ kind: wanted.kind, items: [...(before?.items ?? []), ...items], next });
  };
  useEffect(() => {
    let latest = true;
    const timer = setTimeout(() => void read(searchOf(wanted), null, () => latest), pauseMillis);
    return () => {
      latest = false;
      clearTimeout(timer);
    };
  }, [JSON.stringify(wanted)]);
  const more = () =>
    found?.next == null
      ? undefined
      : void read({ ...searchOf(wanted), after: found.next }, found, () => true);
  return { found: found?.kind === wanted.kind ? found : null, trouble, more };
}

function List({ found: { kind, items }, names }: { found: Found; names: Names }) {
  if (kind === 'calibration')
    return <CalibrationsList items={items as Item<'calibration'>[]} names={names} />;
  if (kind === 'run') return <RunsTable runs={items as StoredRun[]} />;
  return <ThingsList kind={kind} items={items as (Item<'drill'> | Item<'mix'>)[]} />;
}

/** The list below the search. */
export function FoundList({ wanted, names }: { wanted: Wanted; names: Names }) {
  const { found, trouble, more } = useFound(wanted);
  if (trouble !== '') {
    return (
      <p class="fault" role="alert">
        {trouble}
      </p>
    );
  }
  if (found === null) return <p role="status">{words.loading}</p>;
  const { items, next } = found;
  return (
    <>
      <p class="note" role="status">
        {items.length === 0
          ? isNarrowed(wanted)
            ? words.nothing
            : words.empty
          : words.found({ count: items.length, more: next === null ? 'no' : 'yes' })}
      </p>
      {items.length > 0 && <List found={found} names={names} />}
      {next !== null && (
        <p>
          <button type="button" class="quiet" onClick={more}>
            {words.more}
          </button>
        </p>
      )}
    </>
  );
}
