import type { CalibrationView } from '../../../server/http/calibration-messages.ts';
import { chancePercent, exact } from '../state/format.ts';
import { say } from '../state/say.ts';
import { markWords } from './rate-words.ts';
import { Told } from './told.tsx';

const words = say.setting.stop;

function moreWords(runs: number | null, turns: number | null): string {
  if (runs === null) return words.noMore;
  return turns === null ? words.more({ runs }) : words.moreTurns({ runs, turns: Math.round(turns) });
}

/** The chance of being right as a level against what is wanted; for the eye only. */
function ChanceBar({ chance, wanted }: { chance: number; wanted: number }) {
  return (
    <svg class="gauge" height="30" aria-hidden="true">
      <rect class="trough" y="4" width="100%" height="22" rx="3" />
      <rect class="level" y="4" width={`${chance * 100}%`} height="22" rx="3" />
      <line class="notch" x1={`${wanted * 100}%`} x2={`${wanted * 100}%`} y1="0" y2="30" />
    </svg>
  );
}

/** Whether testing can end: how likely the true rate is right, how much is still to do, and what stands in the way. */
export function StopCard({ view }: { view: CalibrationView }) {
  const stop = view.advice?.stop;
  if (stop === undefined) return null;
  const { probability, setting, moreRuns, moreTurns, limit, luckyHit, done } = stop;
  return (
    <section class="panel" aria-labelledby="stop-title">
      <h2 id="stop-title">{words.title}</h2>
      {setting === null ? (
        <p>{words.none}</p>
      ) : (
        <>
          <p>
            {words.chance} {words.at({ mark: markWords(setting) })}
          </p>
          <p class="value">
            <span class="large" data-figure="chance">
              {chancePercent(probability)}
            </span>
            <span class="beside">%</span>
            <span class="note strong">{words.wanted({ share: exact(view.confidence * 100) })}</span>
          </p>
          <ChanceBar chance={probability} wanted={view.confidence} />
          {!done && <p class="strong">{moreWords(moreRuns, moreTurns)}</p>}
          {limit !== null && (
            <p>
              <b>{words.inTheWay}</b> {words.limits[limit]}
            </p>
          )}
          {luckyHit !== null && (
            <p>
              <b>{words.lucky}</b> <Told>{luckyHit}</Told>
            </p>
          )}
        </>
      )}
    </section>
  );
}
