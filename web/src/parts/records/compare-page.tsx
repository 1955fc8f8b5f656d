import type { CalibrationView } from '../../../../server/http/calibration-messages.ts';
import type { ChartRow } from '../../../../server/paper/compose/decided.ts';
import { percent } from '../../state/format.ts';
import { lookAtCalibration } from '../../state/records/api.ts';
import { useAsked } from '../../state/records/asked.ts';
import { comparedRows } from '../../state/records/compare.ts';
import { recordsDetail } from '../../state/records/route.ts';
import { address } from '../../state/route.ts';
import { say } from '../../state/say.ts';
import { system } from '../../state/store.ts';
import { shown } from '../../state/units.ts';
import { markWords, rateNumber } from '../rate-words.ts';
import { calibrationFacts } from './calibration-facts.ts';
import { CompareCurves } from './compare-curves.tsx';
import { Waiting } from './waiting.tsx';

const words = say.records;

type Pair = readonly [first: CalibrationView, second: CalibrationView];

function Facts({ pair }: { pair: Pair }) {
  const { compare, facts } = words;
  const [first, second] = pair.map(
    (view) =>
      [[words.drill, view.drillName], [words.mix, view.seedName], ...calibrationFacts(view)] as [
        string,
        string,
      ][],
  ) as [[string, string][], [string, string][]];
  return (
    <table class="runs" aria-label={compare.title}>
      <thead>
        <tr>
          <td />
          <th scope="col">{compare.first}</th>
          <th scope="col">{compare.second}</th>
        </tr>
      </thead>
      <tbody>
        {first.map(([name, value], index) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td data-name={compare.first}>{name === facts.setting ? <b>{value}</b> : value}</td>
            <td data-name={compare.second}>
              {name === facts.setting ? <b>{second[index]![1]}</b> : second[index]![1]}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const rateCell = (row: ChartRow | null): string =>
  row === null
    ? say.live.none
    : `${rateNumber(row.rate.value)} (${rateNumber(Math.max(0, row.rate.low))} – ${rateNumber(row.rate.high)})`;

function Rates({ pair }: { pair: Pair }) {
  const { compare } = words;
  const unit = shown[system.value].rate;
  const sign = (share: number) => `${share > 0 ? '+' : share < 0 ? '−' : ''}${percent(Math.abs(share))}`;
  return (
    <table class="runs" aria-label={compare.curves}>
      <thead>
        <tr>
          <th scope="col">{compare.axis}</th>
          <th scope="col">{`${compare.first}, ${unit}`}</th>
          <th scope="col">{`${compare.second}, ${unit}`}</th>
          <th scope="col">{compare.change}</th>
        </tr>
      </thead>
      <tbody>
        {comparedRows(...pair).map(({ setting, first, second, change }) => (
          <tr key={setting}>
            <th scope="row">{markWords(setting)}</th>
            <td data-name={compare.first}>{rateCell(first)}</td>
            <td data-name={compare.second}>{rateCell(second)}</td>
            <td data-name={compare.change}>
              {change === null ? say.live.none : words.percent({ figure: sign(change) })}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Body({ pair }: { pair: Pair }) {
  const [first, second] = pair;
  const otherScale = first.drillName !== second.drillName || first.configuration !== second.configuration;
  return (
    <>
      <Facts pair={pair} />
      {otherScale && <p class="note">{words.compare.otherScale}</p>}
      <h3>{words.compare.curves}</h3>
      <CompareCurves views={pair} />
      <Rates pair={pair} />
    </>
  );
}

/** Two calibrations side by side: what they came to, how sure, and their curves. */
export function ComparePage({ ids: [first, second] }: { ids: readonly [string, string] }) {
  const one = useAsked(() => lookAtCalibration(first), [first]);
  const other = useAsked(() => lookAtCalibration(second), [second]);
  return (
    <section class="panel records" aria-labelledby="compare-title">
      <p>
        <a href={address('runs', recordsDetail({ view: 'search' }))}>{words.back}</a>
      </p>
      <h2 id="compare-title" class="page-title">
        {words.compare.title}
      </h2>
      <Waiting asked={one}>
        {(ours) => <Waiting asked={other}>{(theirs) => <Body pair={[ours, theirs]} />}</Waiting>}
      </Waiting>
    </section>
  );
}
