import { useEffect, useRef, useState } from 'preact/hooks';
import { headline } from '../state/headline.ts';
import { language } from '../state/language.ts';
import { offerOf } from '../state/offer.ts';
import { say } from '../state/say.ts';
import { live } from '../state/store.ts';
import { toldWords } from '../state/told.ts';

/** Tells a screen reader, and the browser's tab, when the state changes, and only then: never the running figures. */
export function Announcer() {
  const [said, announce] = useState('');
  const known = useRef('');
  const { socket, link, run } = live.value;
  const { phase, outcome } = run?.figures ?? {};
  const state = [
    socket === 'open',
    link?.condition,
    run?.id,
    phase,
    outcome,
    offerOf(run)?.kind,
    language.value,
  ].join(' ');
  useEffect(() => {
    if (known.current === state) return;
    known.current = state;
    const { word, sentence, told } = headline(live.peek(), say);
    announce(`${word}. ${told ? toldWords(sentence) : sentence}`);
    document.title = `${word} · ${say.page.name}`;
  });
  return (
    <div class="unseen" role="status" aria-live="polite">
      {said}
    </div>
  );
}
