import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Place } from '../state/route.ts';
import { say } from '../state/say.ts';
import { live, route } from '../state/store.ts';
import { OpenedWithout } from './kept-note.tsx';
import { firstPage, laterPages, type PlacePage } from './places.tsx';

/** The places that are there. */
const pages = signal<Partial<Record<Place, PlacePage>>>({ run: firstPage });
const missing = signal<Place | null>(null);

/** Fetches a place unless it is there. */
async function fetchPage(place: Place): Promise<void> {
  if (place === 'run' || pages.peek()[place] !== undefined) return;
  try {
    const page = await laterPages[place]();
    pages.value = { ...pages.peek(), [place]: page };
    if (missing.peek() === place) missing.value = null;
  } catch {
    missing.value = place;
  }
}

/** Fetches all places, so that they open without delay, and also when the server is gone. */
export async function fetchAllPages(): Promise<void> {
  for (const place of Object.keys(laterPages) as Place[]) await fetchPage(place);
}

/** The chosen place; until it is there, that it is on its way. */
export function Here() {
  const { place, detail } = route.value;
  const Page = pages.value[place];
  useEffect(() => void fetchPage(place), [place]);
  const { plan, attempt } = live.value;
  if (plan === null && attempt > 0 && place !== 'preferences') return <OpenedWithout />;
  if (Page !== undefined) return <Page detail={detail} />;
  if (missing.value !== place) return <p class="panel">{say.page.loading}</p>;
  return (
    <p class="panel" role="alert">
      {say.page.notLoaded}{' '}
      <button type="button" onClick={() => location.reload()}>
        {say.page.again}
      </button>
    </p>
  );
}
