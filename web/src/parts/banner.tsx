import { headline } from '../state/headline.ts';
import { say } from '../state/say.ts';
import { fresh, live, now } from '../state/store.ts';
import { Sign } from './sign.tsx';
import { Told } from './told.tsx';

/** Age in words, coarse enough to be read. */
export function ageWords(ageMillis: number | null): string {
  if (ageMillis === null) return say.age.never;
  const seconds = Math.round(ageMillis / 1000);
  return say.age.heard({
    ago:
      seconds < 120 ? say.age.seconds({ seconds }) : say.age.minutes({ minutes: Math.round(seconds / 60) }),
  });
}

function SocketNote() {
  const { socket, attempt, retryAt } = live.value;
  if (socket === 'open' || attempt === 0) return null;
  const seconds = retryAt === null ? 0 : Math.max(0, Math.ceil((retryAt - now.value) / 1000));
  return (
    <p class="socket-note">
      <span>{seconds > 0 ? say.socket.waiting({ seconds }) : say.socket.trying}</span>
      <button type="button" class="quiet" onClick={() => dispatchEvent(new Event('catchbench:connect'))}>
        {say.socket.tryNow}
      </button>
    </p>
  );
}

/** The state in a word readable from across the shop, and in a sentence. */
export function Banner() {
  const { tone, word, sentence, told } = headline(live.value, say);
  const { stale, ageMillis } = fresh.value;
  const phase = live.value.run?.figures.phase ?? 'idle';
  const active = phase !== 'idle' && phase !== 'finished';
  return (
    <div class={`banner tone-${tone}`}>
      <Sign tone={tone} />
      <div class="banner-words">
        <h1>{word}</h1>
        <div>
          <p>{told ? <Told>{sentence}</Told> : sentence}</p>
          {stale && active && <p class="age">{say.socket.old({ age: ageWords(ageMillis) })}</p>}
          <SocketNote />
        </div>
      </div>
    </div>
  );
}
