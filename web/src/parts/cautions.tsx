import type { Plan } from '../../../server/http/messages.ts';
import { texts } from '../state/store.ts';

/** The usual cautions where a wheel is about to turn. */
export function Cautions({ mode }: { mode: Plan['mode'] }) {
  return (
    <aside class="cautions" aria-labelledby="cautions-title">
      <h2 id="cautions-title">{texts.caution.title}</h2>
      <ul>
        {texts.caution[mode].map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p>{texts.caution.more}</p>
    </aside>
  );
}
