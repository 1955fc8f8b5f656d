import { useState } from 'preact/hooks';
import type { Item } from '../../../../server/http/records-messages.ts';
import { date } from '../../state/format.ts';
import { recordsDetail } from '../../state/records/route.ts';
import { address } from '../../state/route.ts';
import { say } from '../../state/say.ts';
import { live } from '../../state/store.ts';
import { markWords, rateWords } from '../rate-words.ts';
import { DemoMark } from './demo-mark.tsx';

const words = say.records;

/** Names of drills and mixes by their number. */
export type Names = ReadonlyMap<string, string>;

interface Named {
  id: string;
  when: string;
  drill: string;
  mix: string;
}

const named = ({ id, createdAt, fields }: Item<'calibration'>, names: Names): Named => ({
  id,
  when: date(createdAt),
  drill: names.get(fields.drillId) ?? say.live.none,
  mix: names.get(fields.mixId) ?? say.live.none,
});

function Row({
  item,
  name,
  chosen,
  onChoose,
}: {
  item: Item<'calibration'>;
  name: Named;
  chosen: boolean;
  onChoose: () => void;
}) {
  const { columns } = words;
  const { chosenSetting, finishedAt, targetGramsPerSquareMetre } = item.fields;
  const { id, when, drill, mix } = name;
  return (
    <tr>
      <td>
        <a
          href={address('runs', recordsDetail({ view: 'calibration', id }))}
          aria-label={words.openCalibration({ drill, mix, when })}
        >
          {when}
        </a>{' '}
        {live.value.demo && <DemoMark />}
      </td>
      <td data-name={columns.drill}>{drill}</td>
      <td data-name={columns.mix}>{mix}</td>
      <td data-name={columns.target}>{rateWords(targetGramsPerSquareMetre)}</td>
      <td data-name={columns.setting}>
        {chosenSetting === null ? (
          finishedAt === null && words.open
        ) : (
          <b>{words.settingAt({ setting: markWords(chosenSetting) })}</b>
        )}
      </td>
      <td data-name={columns.compare}>
        <label class="tick">
          <input
            type="checkbox"
            checked={chosen}
            aria-label={words.choose({ drill, mix, when })}
            onChange={onChoose}
          />
        </label>
      </td>
    </tr>
  );
}

/** The calibrations found; two may be ticked and compared. */
export function CalibrationsList({ items, names }: { items: readonly Item<'calibration'>[]; names: Names }) {
  const [chosen, choose] = useState<readonly string[]>([]);
  const { columns } = words;
  const toggle = (id: string) =>
    choose(chosen.includes(id) ? chosen.filter((one) => one !== id) : [...chosen, id].slice(-2));
  const [first, second] = chosen;
  return (
    <>
      <p class="row">
        {first !== undefined && second !== undefined ? (
          <a class="button" href={address('runs', recordsDetail({ view: 'compare', ids: [first, second] }))}>
            {words.compareTwo}
          </a>
        ) : (
          <span class="note">{words.compareHint}</span>
        )}
      </p>
      <table class="runs">
        <thead>
          <tr>
            {Object.values(columns).map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {items.map((item) => (
            <Row
              key={item.id}
              item={item}
              name={named(item, names)}
              chosen={chosen.includes(item.id)}
              onChoose={() => toggle(item.id)}
            />
          ))}
        </tbody>
      </table>
    </>
  );
}
