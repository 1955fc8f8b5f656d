import { useState } from 'preact/hooks';
import type { CalibrationView } from '../../../server/http/calibration-messages.ts';
import { keepLid } from '../state/calibrating.ts';
import { lidDrafts } from '../state/calibration.ts';
import { type LidDrafts, lidDrafts as onRecord, readLid } from '../state/entry.ts';
import { say } from '../state/say.ts';
import { pending, system } from '../state/store.ts';
import { shown } from '../state/units.ts';
import { EntryInput } from './entry-input.tsx';

const words = say.setting.lid;

/** Rows of the chart on the drill's own lid: setting and rate. Folded until someone wants it. */
export function Lid({ view }: { view: CalibrationView }) {
  const [complain, setComplain] = useState(false);
  const [told, tell] = useState<{ refused: string } | 'kept' | null>(null);
  const drafts = lidDrafts.value ?? onRecord(view.printedChart, view.printedChartBulkDensity, system.value);
  const { body, faults } = readLid(drafts, view.scale, system.value);
  const change = (to: LidDrafts) => {
    lidDrafts.value = to;
    tell(null);
  };
  const typeRow = (index: number, more: Partial<LidDrafts['rows'][number]>) =>
    change({ ...drafts, rows: drafts.rows.map((row, at) => (at === index ? { ...row, ...more } : row)) });
  const send = async (event: Event) => {
    event.preventDefault();
    setComplain(body === null);
    if (body === null) return;
    const refused = await keepLid(body);
    tell(refused === null ? 'kept' : { refused });
  };
  const { rate: rateUnit, density: densityUnit } = shown[system.value];
  return (
    <details class="panel lid" open={lidDrafts.value !== null}>
      <summary>{words.title}</summary>
      <form noValidate onSubmit={(event) => void send(event)} aria-label={words.title}>
        <p class="help">{words.intro}</p>
        {drafts.rows.map((row, index) => (
          <div class="pairs" key={index}>
            <EntryInput
              id={`lid-setting-${index}`}
              label={`${words.setting}, ${words.row({ index: index + 1 })}`}
              value={row.setting}
              fault={complain ? (faults.rows[index]?.setting ?? null) : null}
              onType={(setting) => typeRow(index, { setting })}
            />
            <EntryInput
              id={`lid-rate-${index}`}
              label={`${words.rate}, ${words.row({ index: index + 1 })}`}
              unit={rateUnit}
              value={row.rate}
              fault={complain ? (faults.rows[index]?.rate ?? null) : null}
              onType={(rate) => typeRow(index, { rate })}
            />
          </div>
        ))}
        <EntryInput
          id="lid-density"
          label={words.density}
          unit={densityUnit}
          help={words.densityHelp}
          value={drafts.density}
          fault={complain ? (faults.density ?? null) : null}
          onType={(density) => change({ ...drafts, density })}
        />
        <p class="row">
          <button
            type="button"
            class="quiet"
            onClick={() => change({ ...drafts, rows: [...drafts.rows, { setting: '', rate: '' }] })}
          >
            {words.another}
          </button>
          <button type="submit" class="go" disabled={pending.value !== null}>
            {words.keep}
          </button>
          <span role="status">{told === 'kept' ? words.kept : ''}</span>
        </p>
        <p class="fault" role="alert">
          {told !== null && told !== 'kept' ? told.refused : ''}
        </p>
      </form>
    </details>
  );
}
