import type { RunView } from '../../../server/http/messages.ts';

type Verdict = NonNullable<RunView['figures']['verdict']>;

/** The verdict on a run under way where there is no point in going on; null while there is. */
export function offerOf(run: Pick<RunView, 'figures'> | null): Verdict | null {
  const { phase, verdict } = run?.figures ?? {};
  return phase === 'turning' && verdict != null && verdict.kind !== 'open' ? verdict : null;
}
