import { useEffect, useRef, useState } from 'preact/hooks';
import { headline } from '../state/headline.ts';
import { offerOf } from '../state/offer.ts';
import { say } from '../state/say.ts';
import { live } from '../state/store.ts';

/** Tells a screen reader, and the browser's tab, when the state changes, and only then: never the running figures. */
export function Announcer() {
  const [said, announce] = useState('');
  const known = useRef('');
  const { socket, link, run } = live.value;
  const { phase, outcome } = run?.figures ?? {};
  const state = [socket === 'open', link?.condition, run?.id, phase, outcome, offerOf(run)?.kind].join(' ');
  useEffect(() => {
    if (known.current === state) return;
    known.current = state;
    const { word, sentence } = headline(live.peek(), say);
    announce(`${word}. ${sentence}`);
    document.title = `${word} · ${say.page.name}`;
  });
  return (
    <div class="unseen" role="status" aria-live="polite">
      {said}
    </div>
  );
}
