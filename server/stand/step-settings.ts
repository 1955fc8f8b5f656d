import { type SettingKey, settingFits } from '../link/settings.ts';
import {
  figure,
  grave,
  judged,
  type Remark,
  remark,
  type StandKnown,
  type StepLogic,
  type Turn,
} from './types.ts';

/** The settings that a person knows and the check cannot find out. Slopes and zeros come from check masses. */
export const askedSettings = ['name', 'ppt', 'debounce', 'cells', 'direction', 'warn'] as const;

export interface SettingsWork {
  /** Being set, in their order, those answered left out; null while nothing is written. */
  setting: readonly string[] | null;
  refused: string[];
  saved: boolean;
}

/** The settings that differ from what the board has. */
export function changedSettings(
  values: Readonly<Partial<Record<SettingKey, string>>>,
  { settings }: StandKnown,
): [SettingKey, string][] {
  const pairs = Object.entries(values) as [SettingKey, string][];
  return pairs.filter(([key, value]) => settings.get(key) !== value);
}

function endOf(work: SettingsWork, known: StandKnown): Turn<SettingsWork> {
  const { identity } = known;
  const remarks: Remark[] = work.refused.map((key) => grave('setting-refused', { key }));
  if (identity.settings !== 'ok') remarks.push(grave(`settings-${identity.settings}`));
  if (work.saved) remarks.push(remark('settings-saved'));
  // Below half the time between two pulses at a brisk 60 turns a minute: beyond it pulses get lost.
  const most = 30e6 / (60 * identity.pulsesPerTurn);
  if (identity.debounceMicros >= most)
    remarks.push(grave('debounce-long', { debounce: identity.debounceMicros, most: Math.floor(most) }));
  const figures = [
    figure('pulses-per-turn', identity.pulsesPerTurn),
    figure('debounce', identity.debounceMicros, 'µs'),
    figure('cells', identity.cells),
    figure('direction', identity.direction),
  ];
  return { work, result: judged(figures, remarks) };
}

export const settingsStep: StepLogic<SettingsWork> = {
  begin: () => ({ setting: null, refused: [], saved: false }),
  take(work, input, known) {
    if (work.setting !== null) return whileWriting(work, work.setting, input, known);
    if (input.type !== 'act') return { work };
    if (input.act.do === 'go') return endOf(work, known);
    if (input.act.do !== 'settings') return { work };
    const changes = changedSettings(input.act.values, known);
    const wrong = changes.filter(([key, value]) => !settingFits(key, value));
    if (wrong.length > 0) return { work: { ...work, refused: wrong.map(([key]) => key) } };
    if (changes.length === 0 && known.identity.settings === 'ok')
      return endOf({ ...work, refused: [] }, known);
    // All of them, changed or not: what an earlier write that came to nothing left behind in the board must not be saved with these.
    const given = Object.entries(input.act.values) as [SettingKey, string][];
    const next = { ...work, setting: given.map(([key]) => key), refused: [] };
    if (given.length === 0) return { work: next, send: [{ command: 'save' }] };
    return { work: next, send: given.map(([key, value]) => ({ command: 'set', key, value }) as const) };
  },
  ask: (work) => ({
    code: work.setting !== null ? 'settings-saving' : 'settings',
    values: { refused: work.refused.join(', ') },
    acts: work.setting !== null ? [] : ['settings', 'go'],
  }),
  live: () => [],
};

/** Until the board has taken every setting, saved them, and told its settings anew. All or none: what it refuses keeps the others from being saved. */
function whileWriting(
  work: SettingsWork,
  [key, ...later]: readonly string[],
  input: Parameters<StepLogic<SettingsWork>['take']>[1],
  known: StandKnown,
): Turn<SettingsWork> {
  if (input.type === 'known' && work.saved) return endOf({ ...work, setting: null }, input.known);
  if (input.type !== 'answer') return { work };
  if (input.to === 'set' && key !== undefined) {
    const refused = input.ok ? work.refused : [...work.refused, key];
    const next = { ...work, setting: later, refused };
    if (later.length > 0) return { work: next };
    return refused.length > 0
      ? endOf({ ...next, setting: null }, known)
      : { work: next, send: [{ command: 'save' }] };
  }
  if (input.to !== 'save') return { work };
  return input.ok
    ? { work: { ...work, saved: true } }
    : endOf({ ...work, setting: null, refused: ['save'] }, known);
}
