import { headline } from '../state/headline.ts';
import { fresh, live, now, texts } from '../state/store.ts';
import { Sign } from './sign.tsx';

/** Age in words, coarse enough to be read. */
export function ageWords(ageMillis: number | null): string {
  if (ageMillis === null) return texts.age.never;
  const seconds = Math.round(ageMillis / 1000);
  return texts.age.heard(
    seconds < 120 ? texts.age.seconds(seconds) : texts.age.minutes(Math.round(seconds / 60)),
  );
}

function SocketNote() {
  const { socket, attempt, retryAt } = live.value;
  if (socket === 'open' || attempt === 0) return null;
  const seconds = retryAt === null ? 0 : Math.max(0, Math.ceil((retryAt - now.value) / 1000));
  return (
    <p class="socket-note">
      <span>{texts.socket.waiting(seconds)}</span>
      <button type="button" class="quiet" onClick={() => dispatchEvent(new Event('catchbench:connect'))}>
        {texts.socket.tryNow}
      </button>
    </p>
  );
}

/** The state in a word readable from across the shop, and in a sentence. */
export function Banner() {
  const { tone, word, sentence } = headline(live.value, texts);
  const { stale, ageMillis } = fresh.value;
  const phase = live.value.run?.figures.phase ?? 'idle';
  const active = phase !== 'idle' && phase !== 'finished';
  return (
    <div class={`banner tone-${tone}`}>
      <Sign tone={tone} />
      <div class="banner-words">
        <h1>{word}</h1>
        <div>
          <p>{sentence}</p>
          {stale && active && <p class="age">{texts.socket.old(ageWords(ageMillis))}</p>}
          <SocketNote />
        </div>
      </div>
    </div>
  );
}
