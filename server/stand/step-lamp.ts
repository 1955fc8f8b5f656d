import { hasReadingFlag } from './flags.ts';
import { figure, grave, judged, type Remark, remark, type StepLogic, type Turn } from './types.ts';

/** Lamp or horn on for a second: the board's part is told by its flag, the bulb's by who looks. */

/** The board lights the lamp for a second; readings come ten times a second at least. */
const longestLightMicros = 1_200_000;

export interface LampWork {
  /** `told`: the person has answered, the board's readings have not yet. */
  at: 'begin' | 'asked' | 'lit' | 'told';
  flagSeen: boolean;
  /** Board time of the first reading after the board took the command. */
  litMicros: number | null;
  /** Readings have come for longer than the lamp is lit. */
  over: boolean;
  /** What the person saw or heard. */
  dark: boolean;
}

const begin: LampWork = { at: 'begin', flagSeen: false, litMicros: null, over: false, dark: false };

/** Judged once the person and the board have both had their say, whoever is first. */
function judge(work: LampWork): Turn<LampWork> {
  if (work.at !== 'told' || !(work.flagSeen || work.over)) return { work };
  const remarks: Remark[] = [];
  if (work.dark) remarks.push(grave('lamp-dark'));
  if (!work.flagSeen) remarks.push(grave('lamp-flag-missing'));
  return { work, result: judged([figure('lamp-flag', work.flagSeen ? 1 : 0)], remarks) };
}

export const lampStep: StepLogic<LampWork> = {
  begin: () => begin,
  take(work, input) {
    if (input.type === 'reading') {
      const { boardMicros } = input.reading;
      const flagSeen = work.flagSeen || hasReadingFlag(input.reading, 'lampOn');
      if (work.at !== 'lit' && work.at !== 'told') return { work: { ...work, flagSeen } };
      const litMicros = work.litMicros ?? boardMicros;
      return judge({ ...work, flagSeen, litMicros, over: boardMicros - litMicros > longestLightMicros });
    }
    if (input.type === 'answer' && input.to === 'lamp' && work.at === 'asked') {
      if (input.ok) return { work: { ...work, at: 'lit' } };
      // Firmware before 1.1.0 cannot: it is seen in the first run turned by hand.
      if (input.word === 'unknown')
        return { work, result: { outcome: 'skipped', figures: [], remarks: [remark('lamp-unknown')] } };
      return { work, result: judged([], [grave('lamp-refused', { word: input.word })]) };
    }
    if (input.type !== 'act') return { work };
    if (input.act.do === 'go') return { work: { ...begin, at: 'asked' }, send: [{ command: 'lamp' }] };
    if (work.at !== 'lit' || (input.act.do !== 'yes' && input.act.do !== 'no')) return { work };
    return judge({ ...work, at: 'told', dark: input.act.do === 'no' });
  },
  ask({ at }) {
    if (at === 'told') return { code: 'lamp-told', values: {}, acts: [] };
    if (at === 'lit') return { code: 'lamp-seen', values: {}, acts: ['yes', 'no', 'go'] };
    return { code: 'lamp', values: {}, acts: at === 'asked' ? [] : ['go'] };
  },
  live: () => [],
};
