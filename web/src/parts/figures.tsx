import type { RunView } from '../../../server/http/messages.ts';
import { figure, turns } from '../state/format.ts';
import { catchSpan, rateSpan } from '../state/span.ts';
import { system, texts } from '../state/store.ts';
import { fromSi, shown } from '../state/units.ts';
import { Gauge } from './gauge.tsx';
import { TurnMarks } from './turn-marks.tsx';

const words = texts.live;
const orNone = (value: number | null, write: (value: number) => string) =>
  value === null ? words.none : write(value);

export function CatchFigure({ figures }: Pick<RunView, 'figures'>) {
  const { grams, targetCatchGrams, targetCatchLowGrams, targetCatchHighGrams } = figures;
  const band = words.targetBand(
    figure(targetCatchGrams),
    figure(targetCatchLowGrams),
    figure(targetCatchHighGrams),
  );
  return (
    <section class="panel catch" aria-labelledby="catch-title">
      <h2 id="catch-title">{words.catch}</h2>
      <p class="value">
        <span class="huge" data-figure="grams">
          {orNone(grams, figure)}
        </span>
        <span class="beside">
          {words.grams} {words.of(figure(targetCatchGrams))}
        </span>
      </p>
      <Gauge
        span={catchSpan(targetCatchHighGrams, grams)}
        target={targetCatchGrams}
        low={targetCatchLowGrams}
        high={targetCatchHighGrams}
        value={grams}
        filled
        label={`${words.catch}: ${orNone(grams, figure)} ${words.grams}. ${band}.`}
      />
      <p class="note">{band}</p>
    </section>
  );
}

export function TurnsFigure({ figures }: Pick<RunView, 'figures'>) {
  const { turnsDone, turnsPreset, turnsToGo, backwardTurns } = figures;
  return (
    <section class="panel turns" aria-labelledby="turns-title">
      <h2 id="turns-title">{words.turns}</h2>
      <p class="value">
        <span class="large" data-figure="turns">
          {turns(turnsDone)}
        </span>
        <span class="beside">{words.ofTurns(turns(turnsPreset))}</span>
      </p>
      <TurnMarks done={turnsDone} preset={turnsPreset} />
      <p class="note strong">{turnsToGo > 0.05 ? words.toGo(turns(turnsToGo)) : words.allTurned}</p>
      {backwardTurns > 0.05 && <p class="note">{words.backward(turns(backwardTurns))}</p>}
    </section>
  );
}

export function RateFigure({ figures, plan }: Pick<RunView, 'figures' | 'plan'>) {
  const unit = shown[system.value].rate;
  const show = (si: number) => figure(fromSi(si, 'rate', unit));
  const { gramsPerSquareMetre: target, tolerance } = plan.target;
  const low = target * (1 - tolerance);
  const high = target * (1 + tolerance);
  const { rate } = figures;
  const wanted = words.rateBand(show(low), show(high), unit);
  const interval = rate === null ? words.noRate : words.interval(show(rate.low), show(rate.high));
  return (
    <section class="panel rate" aria-labelledby="rate-title">
      <h2 id="rate-title">{words.rate}</h2>
      <p class="value">
        <span class="large" data-figure="rate">
          {rate === null ? words.none : show(rate.gramsPerSquareMetre)}
        </span>
        <span class="beside">{unit}</span>
      </p>
      <p class="note strong" data-figure="interval">
        {interval}
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
      <p class="note">{wanted}</p>
    </section>
  );
}

export function SpeedFigure({ figures, plan }: Pick<RunView, 'figures' | 'plan'>) {
  const unit = shown[system.value].speed;
  const speed = (si: number) => `${fromSi(si, 'speed', unit).toFixed(1)} ${unit}`;
  const { turnsPerMinute, groundSpeedMetresPerSecond: ground, motorOn } = figures;
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
      <p class="note strong">{ground === null ? '' : words.stands(speed(ground))}</p>
      {planned !== null && <p class="note">{words.planned(speed(planned))}</p>}
      {mode === 'motor' && <p class="note">{motorOn ? words.motorOn : words.motorOff}</p>}
    </section>
  );
}
