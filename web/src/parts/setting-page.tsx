import { useState } from 'preact/hooks';
import type { CalibrationView } from '../../../server/http/calibration-messages.ts';
import { startAnew } from '../state/calibrating.ts';
import { calibration, calibrationTrouble, next } from '../state/calibration.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { pending } from '../state/store.ts';
import { toldWords } from '../state/told.ts';
import { CalibrationRuns } from './calibration-runs.tsx';
import { HandRun } from './hand-run.tsx';
import { HowFound } from './how-found.tsx';
import { Lid } from './lid.tsx';
import { MarksTable } from './marks-table.tsx';
import { NextCard } from './next-card.tsx';
import { rateWords } from './rate-words.ts';
import { RowsForm } from './rows-form.tsx';
import { SettingCurvePanel } from './setting-curve-panel.tsx';
import { StopCard } from './stop-card.tsx';
import { Told } from './told.tsx';

const words = say.setting;

/** Which calibration this is: drill, gate, seed, target. */
function Of({ view }: { view: CalibrationView }) {
  const facts = [
    view.drillName,
    view.configuration,
    view.seedName,
    rateWords(view.targetGramsPerSquareMetre),
  ];
  return (
    <p class="strip">
      <b>{words.of}</b> <span>{facts.filter((fact) => fact !== '').join(' · ')}</span>
    </p>
  );
}

/** What is odd about the runs, one sentence each; what the card above says already is not said again. */
function Findings({ view }: { view: CalibrationView }) {
  const act = next.value;
  const said = act === null ? '' : 'why' in act ? act.why : act.sentence;
  const found = (view.advice?.findings ?? []).filter(({ sentence }) => sentence !== said);
  if (found.length === 0 && view.past.length === 0) return null;
  return (
    <section class="panel" aria-labelledby="findings-title">
      <h2 id="findings-title">{words.findings}</h2>
      <ul class="sentences">
        {found.map(({ sentence }) => (
          <li key={sentence}>
            <Told>{sentence}</Told>
          </li>
        ))}
        {view.past.length > 0 && <li>{words.past({ names: view.past.map(toldWords).join(', ') })}</li>}
      </ul>
    </section>
  );
}

/** Ending a calibration is asked back. */
function StartAnew() {
  const [asking, ask] = useState(false);
  const { start, ask: question, yes, no } = words.anew;
  if (!asking) {
    return (
      <button type="button" class="quiet" onClick={() => ask(true)}>
        {start}
      </button>
    );
  }
  const answer = (sure: boolean) => {
    ask(false);
    if (sure) void startAnew();
  };
  return (
    <span class="asked">
      {question}
      <button type="button" class="quiet" disabled={pending.value !== null} onClick={() => answer(true)}>
        {yes}
      </button>
      <button type="button" class="quiet" onClick={() => answer(false)}>
        {no}
      </button>
    </span>
  );
}

/** The calibration in hand: what to do next and why, whether to end, what the runs say, and the ways to add to them or leave one out. */
export function SettingPage() {
  const view = calibration.value;
  if (view === null) {
    return <p class="panel">{calibrationTrouble.value ?? words.reading}</p>;
  }
  return (
    <div class="run">
      <Of view={view} />
      {calibrationTrouble.value !== null && <p class="fault">{calibrationTrouble.value}</p>}
      <NextCard />
      <div class="board">
        <SettingCurvePanel view={view} />
        <div class="side-top">
          <StopCard view={view} />
          <Findings view={view} />
        </div>
      </div>
      <CalibrationRuns view={view} />
      <div class="two">
        <HandRun />
        <MarksTable view={view} />
      </div>
      <RowsForm view={view} />
      <Lid view={view} />
      {view.advice !== null && <HowFound explanation={view.advice.explanation} />}
      {view.runs.length > 0 && (
        <p class="row ends">
          <a href={address('sheet')}>{say.setting.toSheet}</a>
          <StartAnew />
        </p>
      )}
    </div>
  );
}
