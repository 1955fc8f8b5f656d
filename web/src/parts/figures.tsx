import type { RunView } from '../../../server/http/messages.ts';
import { type Band, bandAround } from '../state/band.ts';
import { grams as asGrams, figure, fixed, turns, wholeTurns } from '../state/format.ts';
import { say } from '../state/say.ts';
import { catchSpan, rateSpan } from '../state/span.ts';
import { system } from '../state/store.ts';
import { fromSi, shown } from '../state/units.ts';
import { Gauge } from './gauge.tsx';
import { TurnMarks } from './turn-marks.tsx';

const words = say.live;
const orNone = (value: number | null, write: (value: number) => string) =>
  value === null ? words.none : write(value);

interface CatchProps {
  grams: number | null;
  band: Band;
  forecast?: Forecast | null | undefined;
}
type Forecast = RunView['figures']['forecast'];

/** What the run will end with, and half of its 95 % interval. */
const forecastWords = ({ grams, gramsLow, gramsHigh }: NonNullable<Forecast>): string =>
  words.forecast({ grams: asGrams(grams), half: asGrams((gramsHigh - gramsLow) / 2) });

/** What lies in the bag against what should; before anything was weighed, what should. */
export function CatchFigure({ grams, band: { target, low, high }, forecast = null }: CatchProps) {
  const wanted = words.target({ grams: asGrams(target) });
  const right = words.right({ low: asGrams(low), high: asGrams(high) });
  return (
    <section class="panel catch" aria-labelledby="catch-title">
      <h2 id="catch-title">{grams === null ? words.targetCatch : words.catch}</h2>
      <p class="value">
        <span class="huge" data-figure={grams === null ? 'target' : 'grams'}>
          {asGrams(grams ?? target)}
        </span>
        <span class="beside">{words.grams}</span>
        <span class="bounds">
          {forecast !== null && (
            <span class="note strong" data-figure="forecast">
              {forecastWords(forecast)}
            </span>
          )}
          {forecast === null ? (
            <>
              {grams !== null && <span class="note strong">{wanted}</span>}
              <span class="note">{right}</span>
            </>
          ) : (
            <span class="note">
              {words.targetRange({ grams: asGrams(target), low: asGrams(low), high: asGrams(high) })}
            </span>
          )}
        </span>
      </p>
      <Gauge
        span={catchSpan(high, grams)}
        target={target}
        low={low}
        high={high}
        value={grams}
        filled
        label={`${words.catch}: ${orNone(grams, asGrams)} ${words.grams}; ${wanted}, ${right}.`}
      />
    </section>
  );
}

/** The band of the catch as a run's figures give it. */
export const catchBand = (figures: RunView['figures']): Band => ({
  target: figures.targetCatchGrams,
  low: figures.targetCatchLowGrams,
  high: figures.targetCatchHighGrams,
});

/** Turns done and to go. What is shown adds up: the turns to go are those that the shown ones leave. */
export function TurnsFigure({ figures }: Pick<RunView, 'figures'>) {
  const { turnsDone, turnsPreset, backwardTurns } = figures;
  const turnsToGo = turnsPreset - Number(turns(turnsDone));
  return (
    <section class="panel turns" aria-labelledby="turns-title">
      <h2 id="turns-title">{words.turns}</h2>
      <p class="value">
        <span class="large" data-figure="turns">
          {turns(turnsDone)}
        </span>
        <span class="beside">{words.ofTurns({ preset: wholeTurns(turnsPreset) })}</span>
      </p>
      <TurnMarks done={turnsDone} preset={turnsPreset} />
      {turnsToGo > 0.05 ? (
        <p class="value">
          <span class="medium" data-figure="turnsToGo">
            {turns(turnsToGo)}
          </span>
          <span class="beside">{words.toGo}</span>
        </p>
      ) : (
        <p class="note strong">{words.allTurned}</p>
      )}
      {backwardTurns > 0.05 && <p class="note">{words.backward({ turns: turns(backwardTurns) })}</p>}
    </section>
  );
}

export function RateFigure({ figures, plan }: Pick<RunView, 'figures' | 'plan'>) {
  const unit = shown[system.value].rate;
  const show = (si: number) => figure(fromSi(si, 'rate', unit));
  const { gramsPerSquareMetre: target, tolerance } = plan.target;
  const { low, high } = bandAround(target, tolerance);
  const { rate } = figures;
  const wanted = words.rateBand({ low: show(low), high: show(high), unit });
  const interval =
    rate === null ? words.noRate : words.interval({ low: show(rate.low), high: show(rate.high) });
  return (
    <section class="panel rate" aria-labelledby="rate-title">
      <h2 id="rate-title">{words.rate}</h2>
      <p class="value">
        <span class="huge" data-figure="rate">
          {rate === null ? words.none : show(rate.gramsPerSquareMetre)}
        </span>
        <span class="beside">{unit}</span>
        <span class="bounds">
          <span class="note strong" data-figure="interval">
            {interval}
          </span>
          <span class="note">{wanted}</span>
        </span>
      </p>
      <Gauge
        span={rateSpan(target, tolerance, rate?.gramsPerSquareMetre ?? null)}
        target={target}
        low={low}
        high={high}
        value={rate?.gramsPerSquareMetre ?? null}
        {...(rate === null ? {} : { doubt: { low: rate.low, high: rate.high } })}
        filled={false}
        label={`${words.rate}: ${rate === null ? words.none : `${show(rate.gramsPerSquareMetre)} ${unit}`}. ${interval}; ${wanted}.`}
      />
    </section>
  );
}

export function SpeedFigure({ figures, plan }: Pick<RunView, 'figures' | 'plan'>) {
  const unit = shown[system.value].speed;
  const speed = (si: number) => `${fixed(fromSi(si, 'speed', unit), 1)} ${unit}`;
  const { turnsPerMinute, groundSpeedMetresPerSecond: ground, motorOn, speed: kept } = figures;
  const { plannedSpeedMetresPerSecond: planned, mode } = plan;
  return (
    <section class="panel speed" aria-labelledby="speed-title">
      <h2 id="speed-title">{words.speed}</h2>
      <p class="value">
        <span class="medium" data-figure="turnsPerMinute">
          {orNone(turnsPerMinute, turns)}
        </span>
        <span class="beside">{words.perMinute}</span>
      </p>
      <p class="notes">
        {ground !== null && <span class="note strong">{words.stands({ speed: speed(ground) })}</span>}
        {kept?.now != null && kept.now !== 'on-plan' && (
          <span class="note strong">{words.speedNow[kept.now]}</span>
        )}
        {planned !== null && (
          <span class="note">
            {words.planned({ speed: speed(planned) })}
            {kept?.shareOnPlan != null && `, ${words.kept({ percent: Math.round(kept.shareOnPlan * 100) })}`}
          </span>
        )}
        {mode === 'motor' && <span class="note">{motorOn ? words.motorOn : words.motorOff}</span>}
      </p>
    </section>
  );
}
