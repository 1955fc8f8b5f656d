import { useState } from 'preact/hooks';
import type { CheckNow } from '../../../server/http/stand-messages.ts';
import { decimalMark, exact, figure } from '../state/format.ts';
import { readNumber } from '../state/number.ts';
import { say } from '../state/say.ts';
import { actInCheck, standCheckBusy } from '../state/stand-check.ts';
import { EntryInput } from './entry-input.tsx';

const words = say.standCheck;

/** A mass and what it is sure to, grams, as they are typed: `200` or `200 ± 0.03`. */
function massIn(typed: string): CheckNow['masses'][number] | null {
  const [mass = '', doubt = '0'] = typed.split('±').map((each) => each.trim());
  const weight = readNumber(mass, decimalMark())?.value ?? Number.NaN;
  const sure = readNumber(doubt, decimalMark())?.value ?? Number.NaN;
  if (!(weight >= 0.1 && weight <= 100_000) || !(sure >= 0 && sure <= 1000)) return null;
  return { name: `${weight} g`, grams: weight, standardDoubt: sure };
}

/** Masses other than the usual ones, before the first weighing. */
function OwnMasses() {
  const [typed, setTyped] = useState('');
  const [fault, setFault] = useState<string | null>(null);
  const use = () => {
    const masses = typed
      .split(';')
      .filter((each) => each.trim() !== '')
      .map(massIn);
    const wrong = masses.length === 0 || masses.includes(null);
    const twice = new Set(masses.map((each) => each?.name)).size < masses.length;
    setFault(wrong || twice ? words.massesFault : null);
    if (!wrong && !twice) void actInCheck({ do: 'masses', masses: masses as CheckNow['masses'] });
  };
  return (
    <details>
      <summary>{words.otherMasses}</summary>
      <EntryInput
        id="own-masses"
        label={words.massesLabel}
        help={words.massesHelp}
        keys="text"
        unit="g"
        value={typed}
        fault={fault}
        onType={(text) => {
          setTyped(text);
          setFault(null);
        }}
      />
      <p class="row">
        <button type="button" class="quiet" onClick={use}>
          {words.useMasses}
        </button>
      </p>
    </details>
  );
}

/** Which masses hang on the cell now, and what was weighed so far. */
export function CheckMasses({ check }: { check: CheckNow }) {
  const [on, setOn] = useState<readonly string[]>([]);
  const toggle = (name: string) =>
    setOn(on.includes(name) ? on.filter((each) => each !== name) : [...on, name]);
  const load = check.masses.reduce((sum, mass) => sum + (on.includes(mass.name) ? mass.grams : 0), 0);
  const busy = standCheckBusy.value || !check.ask.acts.includes('weigh');
  return (
    <>
      <fieldset class="field">
        <legend>{words.hung}</legend>
        <div class="choices">
          {check.masses.map(({ name, grams }) => (
            <label key={name}>
              <input type="checkbox" checked={on.includes(name)} onChange={() => toggle(name)} />
              <span>{exact(grams)} g</span>
            </label>
          ))}
        </div>
      </fieldset>
      {check.weighed.length > 0 && (
        <p>{words.weighed({ loads: check.weighed.map((each) => `${figure(each)} g`).join(', ') })}</p>
      )}
      <p class="row">
        <button
          type="button"
          class="go"
          disabled={busy}
          onClick={() => void actInCheck({ do: 'weigh', on: [...on] })}
        >
          {load === 0 ? words.weighEmpty : words.weigh({ grams: exact(load) })}
        </button>
        <button
          type="button"
          class="quiet"
          disabled={busy || check.weighed.length === 0}
          onClick={() => void actInCheck({ do: 'undo' })}
        >
          {words.undo}
        </button>
        <button
          type="button"
          class="quiet"
          disabled={busy || check.weighed.length < 3}
          onClick={() => void actInCheck({ do: 'go' })}
        >
          {words.cellDone}
        </button>
      </p>
      {check.weighed.length === 0 && <OwnMasses />}
    </>
  );
}
