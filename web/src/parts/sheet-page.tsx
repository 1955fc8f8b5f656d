import type { CalibrationView } from '../../../server/http/calibration-messages.ts';
import type { Plan } from '../../../server/http/messages.ts';
import { calibration, next } from '../state/calibration.ts';
import type { FieldId } from '../state/fields.ts';
import { shownText } from '../state/form.ts';
import { chancePercent, date, exact, grams, wholeTurns } from '../state/format.ts';
import { aboutTarget } from '../state/marks.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { live, system } from '../state/store.ts';
import { shown } from '../state/units.ts';
import { MarkRows, nearestMark } from './marks-table.tsx';
import { markWords, rateNumber, rateWords } from './rate-words.ts';
import { runName } from './run-name.ts';

const words = say.sheet;
const unitOf: Partial<Record<FieldId, Record<'metric' | 'us', string>>> = {
  rowSpacing: { metric: 'cm', us: 'in' },
  circumference: { metric: 'm', us: 'in' },
  slip: { metric: '%', us: '%' },
};

/** A figure of the plan with its unit, as the form shows it. */
const planned = (plan: Plan, id: FieldId): string =>
  `${shownText(id, plan, system.value)} ${unitOf[id]?.[system.value] ?? ''}`.trim();

function Facts({ view, plan }: { view: CalibrationView; plan: Plan }) {
  const { facts } = words;
  const newest = view.runs.at(-1);
  const list: [string, string][] = [
    [facts.drill, view.drillName],
    [facts.configuration, view.configuration],
    [facts.seed, view.seedName],
    [facts.target, `${rateWords(view.targetGramsPerSquareMetre)} ± ${exact(view.tolerance * 100)} %`],
    [facts.rowSpacing, planned(plan, 'rowSpacing')],
    [facts.circumference, planned(plan, 'circumference')],
    [facts.slip, planned(plan, 'slip')],
    [facts.rowsCaught, planned(plan, 'rowsCaught')],
    [facts.date, newest === undefined ? '' : date(newest.at)],
  ];
  return (
    <dl class="sheet-facts">
      {list.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

/** The three figures that a buyer looks for: setting, rate, how sure. */
function Keys({ view, setting }: { view: CalibrationView; setting: number }) {
  const unit = shown[system.value].rate;
  const row = view.advice?.chart.find((one) => Math.abs(one.setting - setting) < 1e-9);
  const chance = view.advice?.stop.probability ?? 0;
  return (
    <div class="sheet-keys">
      <p>
        {words.set} <b>{markWords(setting)}</b>
      </p>
      {row !== undefined && (
        <p>
          {words.gives}{' '}
          <b>
            {rateNumber(row.rate.value)} <small>{unit}</small>
          </b>{' '}
          {words.givesInterval({ low: rateNumber(row.rate.low), high: rateNumber(row.rate.high), unit })}
        </p>
      )}
      <p>
        {words.chance}{' '}
        <b>
          {chancePercent(chance)} <small>%</small>
        </b>{' '}
        {words.chanceOf({
          tolerance: exact(view.tolerance * 100),
          target: rateWords(view.targetGramsPerSquareMetre),
        })}
      </p>
    </div>
  );
}

function Measured({ view }: { view: CalibrationView }) {
  const { columns, sources, counts } = say.setting.runs;
  return (
    <table class="runs">
      <thead>
        <tr>
          {[columns.name, columns.setting, columns.caught, columns.rate, columns.source, columns.model].map(
            (name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ),
          )}
        </tr>
      </thead>
      <tbody>
        {view.runs.map((run) => (
          <tr key={run.id}>
            <td>
              <b>{runName(run.name)}</b>
            </td>
            <td data-name={columns.setting}>
              {run.setting === null ? run.settingText : markWords(run.setting)}
            </td>
            <td data-name={columns.caught}>
              {run.grams === null
                ? say.live.none
                : say.result.caught({
                    grams: grams(run.grams),
                    turns: wholeTurns(Number(run.turns.toFixed(1))),
                  })}
            </td>
            <td data-name={columns.rate}>
              {run.rate === null
                ? say.live.none
                : `${rateWords(run.rate.value)} (${rateNumber(run.rate.low)} – ${rateNumber(run.rate.high)})`}
            </td>
            <td data-name={columns.source}>{sources[run.source]}</td>
            <td data-name={columns.model}>{run.counts ? counts : run.whyNot}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Signature() {
  return (
    <dl class="signature">
      {Object.values(words.sign).map((name) => (
        <div key={name}>
          <dd />
          <dt>{name}</dt>
        </div>
      ))}
    </dl>
  );
}

/** The printable result of the calibration in hand: a page of A4 or Letter, by the browser's own printing. */
export function SheetPage() {
  const view = calibration.value;
  const { plan, demo, version } = live.value;
  const act = next.value;
  if (view === null || plan === null || act === null || !('setting' in act) || view.runs.length === 0) {
    return (
      <section class="panel">
        <h2>{words.title}</h2>
        <p>{words.none}</p>
        <a href={address('setting')}>{words.toSetting}</a>
      </section>
    );
  }
  const { near } = aboutTarget(view.advice?.chart ?? [], view.targetGramsPerSquareMetre);
  return (
    <article class="panel sheet" aria-labelledby="sheet-title">
      <div class="sheet-head">
        <h2 id="sheet-title" class="page-title">
          {words.title}
        </h2>
        <button type="button" class="go no-print" onClick={() => print()}>
          {words.print}
        </button>
      </div>
      {demo && <p class="sheet-warning">{words.demo}</p>}
      {act.kind === 'set' && <p class="sheet-warning">{words.unfinished}</p>}
      <Keys view={view} setting={act.setting} />
      <Facts view={view} plan={plan} />
      <h3>{words.sure}</h3>
      <p>{act.sentence}</p>
      {act.reason !== null && <p>{act.reason}</p>}
      <h3>{words.chart}</h3>
      <MarkRows rows={near} nearest={nearestMark(view)} />
      <h3>{words.measured}</h3>
      <Measured view={view} />
      <h3>{words.cautionsTitle}</h3>
      <ul class="sentences">
        {words.cautions.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <Signature />
      <p class="note">{words.madeBy({ version, at: date(new Date().toISOString()) })}</p>
    </article>
  );
}
