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
  /** Commands sent and not answered. */
  waiting: number;
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
  begin: () => ({ waiting: 0, refused: [], saved: false }),
  take(work, input, known) {
    if (work.waiting > 0) return whileSending(work, input, known);
    if (input.type !== 'act') return { work };
    if (input.act.do === 'go') return endOf(work, known);
    if (input.act.do !== 'settings') return { work };
    const changes = changedSettings(input.act.values, known);
    const wrong = changes.filter(([key, value]) => !settingFits(key, value));
    if (wrong.length > 0) return { work: { ...work, refused: wrong.map(([key]) => key) } };
    if (changes.length === 0 && known.identity.settings === 'ok')
      return endOf({ ...work, refused: [] }, known);
    return {
      work: { ...work, waiting: changes.length + 1, refused: [] },
      send: [
        ...changes.map(([key, value]) => ({ command: 'set', key, value }) as const),
        { command: 'save' } as const,
      ],
    };
  },
  ask: (work) => ({
    code: work.waiting > 0 ? 'settings-saving' : 'settings',
    values: { refused: work.refused.join(', ') },
    acts: work.waiting > 0 ? [] : ['settings', 'go'],
  }),
  live: () => [],
};

/** Until every command has been answered and the board has told its settings anew. */
function whileSending(
  work: SettingsWork,
  input: Parameters<StepLogic<SettingsWork>['take']>[1],
  known: StandKnown,
): Turn<SettingsWork> {
  if (input.type === 'known' && work.waiting === 1 && work.saved)
    return endOf({ ...work, waiting: 0 }, input.known);
  if (input.type !== 'answer' || (input.to !== 'set' && input.to !== 'save')) return { work };
  if (!input.ok) {
    const refused = [...work.refused, input.to === 'save' ? 'save' : 'set'];
    return input.to === 'save'
      ? endOf({ ...work, refused, waiting: 0 }, known)
      : { work: { ...work, refused, waiting: work.waiting - 1 } };
  }
  // The last to be answered is `save`; what the board then says of itself comes next.
  return input.to === 'save'
    ? { work: { ...work, saved: true, waiting: 1 } }
    : { work: { ...work, waiting: work.waiting - 1 } };
}
