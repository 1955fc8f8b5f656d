import type { ComponentChildren } from 'preact';
import type { Asked } from '../../state/records/asked.ts';
import { say } from '../../state/say.ts';

/** What was asked for once it is there; before that that it is read, or why it is not. */
export function Waiting<T>({
  asked,
  children,
}: {
  asked: Asked<T>;
  children: (value: T) => ComponentChildren;
}) {
  if (asked.state === 'waiting') return <p role="status">{say.records.loading}</p>;
  if (asked.state === 'here') return <>{children(asked.value)}</>;
  if (asked.status === 404) return <p>{say.records.missing}</p>;
  return (
    <p class="fault" role="alert">
      {asked.sentence}
    </p>
  );
}
