import { useEffect, useState } from 'preact/hooks';
import type { Answer } from '../api.ts';
import { say } from '../say.ts';
import { toldWords } from '../told.ts';

/** Something asked of the server for one place of the page. */
export type Asked<T> =
  | { state: 'waiting' }
  | { state: 'here'; value: T }
  | { state: 'refused'; status: number; sentence: string };

/** Why a request came to nothing, for a person. */
export const whyRefused = ({ status, problem }: Extract<Answer<unknown>, { ok: false }>): string =>
  problem !== null
    ? toldWords(problem.message)
    : status === 0
      ? say.records.unreachable
      : say.problem.unknown({ status });

/** Asks when the place is opened and whenever one of `on` changes; an answer that comes too late is dropped. */
export function useAsked<T>(ask: () => Promise<Answer<T>>, on: readonly unknown[]): Asked<T> {
  const [asked, set] = useState<Asked<T>>({ state: 'waiting' });
  useEffect(() => {
    let wanted = true;
    void ask().then((answer) => {
      if (!wanted) return;
      set(
        answer.ok
          ? { state: 'here', value: answer.value }
          : { state: 'refused', status: answer.status, sentence: whyRefused(answer) },
      );
    });
    return () => {
      wanted = false;
    };
  }, [...on]);
  return asked;
}
