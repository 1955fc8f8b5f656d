import { useState } from 'preact/hooks';
import type { CheckActBody, CheckNow } from '../../../server/http/stand-messages.ts';
import { say } from '../state/say.ts';
import { actInCheck, standCheckBusy } from '../state/stand-check.ts';
import { EntryInput } from './entry-input.tsx';

const words = say.standCheck;

/** What each setting may be, as the board has it (hardware-notes/protocol.md). */
const ranges = {
  ppt: [1, 2000],
  debounce: [20, 20_000],
  cells: [1, 6],
  direction: [0, 2],
  warn: [0, 65_535],
} as const;
type NumberKey = keyof typeof ranges;
type Key = NumberKey | 'name';
const keys: readonly Key[] = ['name', 'ppt', 'debounce', 'cells', 'direction', 'warn'];

type Drafts = Record<Key, string>;

function faultOf(key: Key, typed: string): string | null {
  if (key === 'name') return /^[A-Za-z0-9_-]{1,16}$/.test(typed) ? null : words.nameFault;
  const [low, high] = ranges[key];
  const number = Number(typed);
  const fits = /^\d+$/.test(typed) && number >= low && number <= high;
  return fits ? null : words.rangeFault({ low: String(low), high: String(high) });
}

function bodyOf(drafts: Drafts): Omit<CheckActBody, 'question' | 'sentAt'> {
  const { name, ...rest } = drafts;
  const numbers = Object.fromEntries(Object.entries(rest).map(([key, typed]) => [key, Number(typed)]));
  return { do: 'settings', values: { name, ...numbers } };
}

/** The settings that a person knows: looked through, changed where they are wrong. */
export function CheckSettings({ check }: { check: CheckNow }) {
  const [drafts, setDrafts] = useState<Drafts>(
    () => Object.fromEntries(keys.map((key) => [key, check.settings[key] ?? ''])) as Drafts,
  );
  const [complain, setComplain] = useState(false);
  const faults = Object.fromEntries(keys.map((key) => [key, faultOf(key, drafts[key].trim())]));
  const save = (event: Event) => {
    event.preventDefault();
    const wrong = Object.values(faults).some((fault) => fault !== null);
    setComplain(wrong);
    const trimmed = Object.fromEntries(keys.map((key) => [key, drafts[key].trim()])) as Drafts;
    if (!wrong) void actInCheck(bodyOf(trimmed));
  };
  return (
    <form noValidate onSubmit={save} aria-label={words.steps.settings}>
      <div class="pairs">
        {keys.map((key) => (
          <EntryInput
            key={key}
            id={`board-${key}`}
            label={words.settings[key]}
            help={words.settingsHelp[key]}
            keys={key === 'name' ? 'text' : 'decimal'}
            unit={key === 'debounce' ? 'µs' : ''}
            value={drafts[key]}
            fault={complain ? (faults[key] ?? null) : null}
            onType={(typed) => setDrafts({ ...drafts, [key]: typed })}
          />
        ))}
      </div>
      <p class="row">
        <button type="submit" class="go" disabled={standCheckBusy.value}>
          {words.saveSettings}
        </button>
      </p>
    </form>
  );
}
