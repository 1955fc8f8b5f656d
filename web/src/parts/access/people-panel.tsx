import { useEffect, useState } from 'preact/hooks';
import type { HereAnswer, SessionsAnswer } from '../../../../server/http/access-messages.ts';
import { date, when } from '../../state/format.ts';
import { here, leave, listSessions, mayI, revoke } from '../../state/people.ts';
import { say } from '../../state/say.ts';
import { AuditList } from './audit-list.tsx';
import { LetIn } from './let-in.tsx';
import { nameOf } from './name.ts';
import { problemWords } from './problem.ts';

const words = say.access;

/** Everyone who has a page open, and what they may. */
function Present({ people }: { people: HereAnswer }) {
  const present = people.people.filter(({ id, pages }) => pages > 0 || id === people.you.id);
  return (
    <ul class="access-present">
      {present.map(({ id, role }) => {
        const name = nameOf(people, id);
        return (
          <li key={id}>
            <b>{id === people.you.id ? words.you({ name }) : name}</b> {words.roles[role]}
            {people.wheel.holder === id && <span class="access-mark">{words.wheel}</span>}
          </li>
        );
      })}
    </ul>
  );
}

type Session = SessionsAnswer['sessions'][number];

function SessionRow({ session, away }: { session: Session; away: () => void }) {
  const { name, role, from, seenAt, until } = session;
  return (
    <li>
      <span>
        <b>{name}</b> {words.roles[role]}
        <small>
          {words.seen}: {when(seenAt)}. {words.until}: {date(until)}. {words.from}: {from}
        </small>
      </span>
      <button type="button" class="quiet" aria-label={words.revokeNamed({ name })} onClick={away}>
        {words.revoke}
      </button>
    </li>
  );
}

/** Devices that were let in, here or not, each with the button that sends it away. */
function Paired() {
  const [sessions, setSessions] = useState<Session[] | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const look = async () => {
    const answer = await listSessions();
    if (answer.ok) setSessions(answer.value.sessions);
  };
  const away = async (id: string) => {
    setProblem(problemWords(await revoke(id)));
    await look();
  };
  // A new device shows in who is here; then the list is read again.
  const known = here.value?.people.map(({ id }) => id).join(' ');
  useEffect(() => void look(), [known]);
  return (
    <div>
      <h3>{words.pairedTitle}</h3>
      {sessions?.length === 0 && <p class="help">{words.nonePaired}</p>}
      <ul class="access-paired">
        {sessions?.map((session) => (
          <SessionRow key={session.id} session={session} away={() => void away(session.id)} />
        ))}
      </ul>
      <p class="fault" aria-live="polite">
        {problem}
      </p>
    </div>
  );
}

/** People, where others may come in: who is here; for those who manage, letting in, sending away, and who did what. */
export function PeoplePanel() {
  const people = here.value;
  if (people === null) return null;
  return (
    <section class="panel preferences" id="people" aria-labelledby="people-title">
      <h2 id="people-title" class="page-title">
        {words.hereTitle}
      </h2>
      <Present people={people} />
      {mayI('manage') && (
        <>
          <LetIn />
          <Paired />
          <AuditList />
        </>
      )}
      {people.you.id !== 'host' && (
        <button type="button" class="quiet" onClick={() => void leave()}>
          {words.leave}
        </button>
      )}
    </section>
  );
}
