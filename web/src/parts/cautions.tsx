import type { Plan } from '../../../server/http/messages.ts';
import { say } from '../state/say.ts';

/** The usual cautions where a wheel is about to turn. */
export function Cautions({ mode }: { mode: Plan['mode'] }) {
  return (
    <aside class="cautions" aria-labelledby="cautions-title">
      <h2 id="cautions-title">{say.caution.title}</h2>
      <ul>
        {say.caution[mode].map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p>{say.caution.more}</p>
    </aside>
  );
}
