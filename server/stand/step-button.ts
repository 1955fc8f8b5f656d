import { hasReadingFlag } from './flags.ts';
import { patienceSeconds } from './limits.ts';
import {
  type Figure,
  figure,
  grave,
  judged,
  type Remark,
  remark,
  type StepLogic,
  type Turn,
} from './types.ts';

/** The stop button pressed and released: the board must see it, and refuse to be armed meanwhile. */

export interface ButtonWork {
  at: 'begin' | 'press' | 'pressed' | 'release';
  fromMicros: number | null;
  /** What the board said to `arm` with the button in: its word, null while it has not answered. */
  word: string | null;
}

const begin: ButtonWork = { at: 'begin', fromMicros: null, word: null };

function end(work: ButtonWork, more: readonly Remark[]): Turn<ButtonWork> {
  const refused = work.word === 'button';
  const remarks = [...more];
  // Without settings the board refuses for their sake before it looks at the button.
  if (work.word === 'settings') remarks.push(remark('arm-not-tried'));
  else if (more.length === 0 && !refused) remarks.push(grave('arm-not-refused', { word: work.word ?? '' }));
  const figures: Figure[] = [figure('arm-refused', refused ? 1 : 0)];
  return { work, ...(work.word === '' ? { stop: true } : {}), result: judged(figures, remarks) };
}

function onReading(work: ButtonWork, micros: number, open: boolean): Turn<ButtonWork> {
  const from = work.fromMicros ?? micros;
  const next = { ...work, fromMicros: from };
  if ((micros - from) / 1e6 > patienceSeconds)
    return end(next, [grave(work.at === 'press' ? 'button-not-seen' : 'button-stays')]);
  if (work.at === 'press' && open)
    return { work: { ...next, at: 'pressed' }, send: [{ command: 'arm', mode: 'hand', pulses: 1 }] };
  if (work.at === 'release' && !open) return end(next, []);
  return { work: next };
}

export const buttonStep: StepLogic<ButtonWork> = {
  begin: () => begin,
  take(work, input) {
    if (input.type === 'act' && input.act.do === 'go' && work.at === 'begin')
      return { work: { ...work, at: 'press' } };
    if (input.type === 'answer' && input.to === 'arm' && work.at === 'pressed') {
      return {
        work: { ...work, at: 'release', fromMicros: null, word: input.ok ? '' : input.word },
        ...(input.ok ? { stop: true } : {}),
      };
    }
    if (input.type !== 'reading' || work.at === 'begin' || work.at === 'pressed') return { work };
    return onReading(work, input.reading.boardMicros, hasReadingFlag(input.reading, 'stopOpen'));
  },
  ask: ({ at }) => ({
    code: at === 'begin' ? 'button' : at === 'press' ? 'press' : 'release',
    values: {},
    acts: at === 'begin' ? ['go'] : [],
  }),
  live: () => [],
};
