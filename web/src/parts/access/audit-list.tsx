import { useState } from 'preact/hooks';
import type { AuditAnswer } from '../../../../server/http/access-messages.ts';
import { when } from '../../state/format.ts';
import { listAudit, type Role } from '../../state/people.ts';
import { say } from '../../state/say.ts';
import { problemWords } from './problem.ts';

const words = say.access;
type Entry = AuditAnswer['entries'][number];

/** What was done, in words where there are any; else as the service calls it. */
const actNames: Record<string, keyof typeof words.acts> = {
  'POST /api/run/arm': 'arm',
  'POST /api/run/start': 'start',
  'POST /api/run/stop': 'stop',
  'POST /api/run/abort': 'abort',
  'PUT /api/plan': 'plan',
  'POST /api/backups/:name/restore': 'restore',
  'POST /api/import': 'imported',
  pairing: 'pairing',
  left: 'left',
  revoked: 'revoked',
  'offered a code': 'offered',
  'asked to come in': 'knocked',
};

function outcomeWords(outcome: string): string {
  if (/^2\d\d$/.test(outcome) || outcome === 'paired' || outcome === 'done') return words.outcomes.done;
  if (/^[45]\d\d$/.test(outcome)) return `${words.outcomes.refused} (${outcome})`;
  return outcome in words.roles ? words.roles[outcome as Role] : outcome;
}

function Row({ at, by, name, from, act, outcome }: Entry) {
  const known = actNames[act];
  const who = by === 'host' ? words.host : name === '' ? `${words.nobody}, ${from}` : name;
  return (
    <tr>
      <td>{when(at)}</td>
      <td>{who}</td>
      <td lang={known === undefined ? 'en' : undefined}>{known === undefined ? act : words.acts[known]}</td>
      <td>{outcomeWords(outcome)}</td>
    </tr>
  );
}

/** Who started, stopped, came in and was sent away, newest first; read when it is asked for. */
export function AuditList() {
  const [entries, setEntries] = useState<Entry[] | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const show = async () => {
    const answer = await listAudit();
    setEntries(answer.ok ? answer.value.entries.slice(0, 100) : null);
    setProblem(problemWords(answer));
  };
  return (
    <div>
      <h3>{words.auditTitle}</h3>
      <button type="button" onClick={() => void show()}>
        {words.showAudit}
      </button>
      <p class="fault" aria-live="polite">
        {problem}
      </p>
      {entries !== null && (
        <section class="access-table" aria-label={words.auditTitle}>
          <table>
            <thead>
              <tr>
                {[words.when, words.who, words.what, words.outcome].map((title) => (
                  <th key={title} scope="col">
                    {title}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {entries.map((entry, index) => (
                <Row key={`${entry.at} ${index}`} {...entry} />
              ))}
            </tbody>
          </table>
        </section>
      )}
    </div>
  );
}
