import type { Answer } from '../../state/api.ts';
import { say } from '../../state/say.ts';
import { toldWords } from '../../state/told.ts';

type Code = keyof typeof say.access.problems;

/** Why something about people was refused, in the language of the page; null where it was done. */
export function problemWords(answer: Answer<unknown>): string | null {
  if (answer.ok) return null;
  const { problem } = answer;
  if (problem === null) return say.access.unreachable;
  const known = problem.code in say.access.problems ? (problem.code as Code) : null;
  return known === null ? toldWords(problem.message) : say.access.problems[known];
}

/** Which field the refusal belongs to. */
export const atName = (answer: Answer<unknown>): boolean =>
  !answer.ok && (answer.problem?.field === '/name' || answer.problem?.code === 'bad-input');
