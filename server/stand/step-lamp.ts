import { hasReadingFlag } from './flags.ts';
import { figure, grave, judged, type Remark, remark, type StepLogic } from './types.ts';

/** Lamp or horn on for a second: the board's part is told by its flag, the bulb's by who looks. */

export interface LampWork {
  at: 'begin' | 'asked' | 'lit';
  flagSeen: boolean;
}

export const lampStep: StepLogic<LampWork> = {
  begin: () => ({ at: 'begin', flagSeen: false }),
  take(work, input) {
    if (input.type === 'reading' && hasReadingFlag(input.reading, 'lampOn'))
      return { work: { ...work, flagSeen: true } };
    if (input.type === 'answer' && input.to === 'lamp' && work.at === 'asked') {
      if (input.ok) return { work: { ...work, at: 'lit' } };
      // Firmware before 1.1.0 cannot: it is seen in the first run turned by hand.
      if (input.word === 'unknown')
        return { work, result: { outcome: 'skipped', figures: [], remarks: [remark('lamp-unknown')] } };
      return { work, result: judged([], [grave('lamp-refused', { word: input.word })]) };
    }
    if (input.type !== 'act') return { work };
    if (input.act.do === 'go') return { work: { at: 'asked', flagSeen: false }, send: [{ command: 'lamp' }] };
    if (work.at !== 'lit' || (input.act.do !== 'yes' && input.act.do !== 'no')) return { work };
    const remarks: Remark[] = [];
    if (input.act.do === 'no') remarks.push(grave('lamp-dark'));
    if (!work.flagSeen) remarks.push(grave('lamp-flag-missing'));
    return { work, result: judged([figure('lamp-flag', work.flagSeen ? 1 : 0)], remarks) };
  },
  ask: ({ at }) => ({
    code: at === 'lit' ? 'lamp-seen' : 'lamp',
    values: {},
    acts: at === 'lit' ? ['yes', 'no', 'go'] : at === 'asked' ? [] : ['go'],
  }),
  live: () => [],
};
