import { useEffect, useState } from 'preact/hooks';
import { percent, when } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { readScale, scale, scaleTrouble } from '../../state/scale-place/scale-place.ts';
import { BeginCheck } from './begin-check.tsx';
import { CellPanel } from './cell-panel.tsx';
import { CheckPanel } from './check-panel.tsx';

/** How often the scale is read again, milliseconds: fast enough to see a hand on it. */
const readAgain = 500;

/** Checks on record, and what the next run reckons with. */
function KeptChecks() {
  const view = scale.value!;
  const { from, relative } = view.slopeDoubt;
  const share = { percent: percent(relative) };
  return (
    <>
      <p>{from === 'checks' ? say.scale.reckonsByCheck(share) : say.scale.reckonsAsUsual(share)}</p>
      {view.kept.length > 0 && (
        <ul class="kept-checks">
          {view.kept.map(({ id, cell, at, passed, inDate }) => (
            <li key={id}>
              {say.scale.keptCheck({ cell: String(cell + 1), when: when(at) })}{' '}
              <b>{inDate ? (passed ? say.scale.passed : say.scale.notPassed) : say.scale.outOfDate}</b>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

/** The scale: its cells live, and their check with known masses, step by step. */
export function ScalePlace() {
  const [cell, choose] = useState(0);
  useEffect(() => {
    void readScale();
    const timer = setInterval(() => void readScale(), readAgain);
    return () => clearInterval(timer);
  }, []);
  const view = scale.value;
  if (view === null) return null;
  return (
    <section class="panel scale-place" aria-labelledby="scale-title">
      <h2 id="scale-title">{say.scale.title}</h2>
      {view.stand === null ? (
        <p>{say.scale.noStand}</p>
      ) : (
        <div class="cells">
          {view.cells.map((each) => (
            <CellPanel key={each.cell} now={each} alone={view.cells.length === 1} />
          ))}
        </div>
      )}
      <p class="fault" role="alert">
        {scaleTrouble.value}
      </p>
      {view.check === null ? (
        <>
          <h3>{say.scale.checkTitle}</h3>
          <KeptChecks />
          {view.stand !== null && (
            <BeginCheck view={view} cell={Math.min(cell, view.cells.length - 1)} choose={choose} />
          )}
        </>
      ) : (
        <CheckPanel check={view.check} />
      )}
    </section>
  );
}
