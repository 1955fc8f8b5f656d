import { useState } from 'preact/hooks';
import type { HereAnswer } from '../../../../server/http/access-messages.ts';
import type { Answer } from '../../state/api.ts';
import { giveWheel, here, mayI, wheel } from '../../state/people.ts';
import { address } from '../../state/route.ts';
import { say } from '../../state/say.ts';
import { now } from '../../state/store.ts';
import { nameOf } from './name.ts';
import { problemWords } from './problem.ts';

const words = say.access;

function holderWords(people: HereAnswer): string {
  const { holder } = people.wheel;
  if (holder === null) return words.wheelFree;
  return holder === people.you.id ? words.wheelYours : words.wheelTheirs({ name: nameOf(people, holder) });
}

interface ActProps {
  people: HereAnswer;
  run: (act: () => Promise<Answer<unknown>>) => void;
}

/** What the one who holds the wheel can do: give it to whoever asks, keep it, let go. */
function Holding({ people, run }: ActProps) {
  const { asking } = people.wheel;
  if (asking.length === 0) {
    return (
      <button type="button" class="quiet" onClick={() => run(() => wheel('leave'))}>
        {words.letGo}
      </button>
    );
  }
  return (
    <>
      {asking.map((id) => (
        <span key={id} class="access-asks" role="status">
          {words.asks({ name: nameOf(people, id) })}
          <button type="button" onClick={() => run(() => giveWheel(id))}>
            {words.give}
          </button>
        </span>
      ))}
      <button type="button" class="quiet" onClick={() => run(() => wheel('keep'))}>
        {words.keep}
      </button>
    </>
  );
}

/** What the others can do: ask, and take it once nobody answers. */
function Wanting({ people, run, since }: ActProps & { since: number }) {
  const { holder, asking, takeInMillis } = people.wheel;
  if (holder === null) return null;
  const left = takeInMillis === null ? null : Math.max(0, takeInMillis - (now.value - since));
  if (left === 0) {
    return (
      <button type="button" onClick={() => run(() => wheel('take'))}>
        {words.take}
      </button>
    );
  }
  if (left !== null && asking.includes(people.you.id)) {
    return <span role="status">{words.waiting({ seconds: Math.ceil(left / 1000) })}</span>;
  }
  return (
    <button type="button" class="quiet" onClick={() => run(() => wheel('ask'))}>
      {words.askWheel}
    </button>
  );
}

/** When this state of affairs was heard: the waiting is counted down from there. */
let heard: { people: HereAnswer | null; at: number } = { people: null, at: 0 };
function heardAt(people: HereAnswer): number {
  if (heard.people !== people) heard = { people, at: performance.now() };
  return heard.at;
}

/** One line under the banner: who holds the wheel, and how it passes on. Only there where others may come in. */
export function PeopleBar() {
  const [problem, setProblem] = useState<string | null>(null);
  const people = here.value;
  if (people === null) return null;
  const run = (act: () => Promise<Answer<unknown>>) =>
    void act().then((told) => setProblem(problemWords(told)));
  const looking = people.people.reduce((count, { pages }) => count + (pages > 0 ? 1 : 0), 0);
  const mine = people.wheel.holder === people.you.id;
  return (
    <section class="access-bar" aria-label={words.wheel}>
      <span>{mayI('operate') ? holderWords(people) : words.watching}</span>
      {mayI('operate') &&
        (mine ? (
          <Holding people={people} run={run} />
        ) : (
          <Wanting people={people} run={run} since={heardAt(people)} />
        ))}
      <a href={address('preferences', 'people')}>{words.count({ count: looking })}</a>
      <span class="fault" aria-live="polite">
        {problem}
      </span>
    </section>
  );
}
