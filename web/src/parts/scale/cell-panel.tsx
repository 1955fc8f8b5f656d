import type { CellNow } from '../../../../server/http/scale-messages.ts';
import { figure, fixed, percent } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { scaleBusy, zeroNow } from '../../state/scale-place/scale-place.ts';
import { StateSign } from '../before-run/state-sign.tsx';
import { Told } from '../told.tsx';

/** Health in figures, folded until someone wants them. */
function Health({ health }: { health: NonNullable<CellNow['health']> }) {
  const { readingsPerSecond, noiseGrams, driftGramsPerMinute, driftHalf, missingShare } = health;
  const facts: [string, string | null][] = [
    [say.scale.readings, readingsPerSecond === null ? null : figure(readingsPerSecond)],
    [say.scale.noise, noiseGrams === null ? null : say.scale.grams({ grams: figure(noiseGrams) })],
    [
      say.scale.drift,
      driftGramsPerMinute === null
        ? null
        : say.scale.perMinute({ grams: figure(driftGramsPerMinute), half: figure(driftHalf ?? 0) }),
    ],
    [say.scale.missing, say.scale.share({ percent: percent(missingShare) })],
  ];
  return (
    <details>
      <summary>{say.scale.health}</summary>
      <dl class="facts">
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value ?? say.scale.notKnown}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}

/** A cell as it is now: what lies on it, how well that is known, and what is wrong with it. */
export function CellPanel({ now, alone }: { now: CellNow; alone: boolean }) {
  const { cell, grams, standardError, steady, health, findings, zeroed } = now;
  const codes = say.scale.healthWords as Record<string, string>;
  return (
    <div class="cell">
      {!alone && <h3>{say.scale.cell({ cell: String(cell + 1) })}</h3>}
      <p class="cell-figure">
        <b data-figure="scale">{grams === null ? say.live.none : fixed(grams, 2)}</b> {say.live.grams}
        {standardError !== null && (
          <small> {say.scale.plusMinus({ grams: figure(2 * standardError) })}</small>
        )}
      </p>
      <p class="cell-state">
        <StateSign state={grams === null ? 'wrong' : steady ? 'good' : 'open'} />{' '}
        {grams === null ? say.scale.noWeight : steady ? say.scale.still : say.scale.moving}
      </p>
      <p class="row">
        <button
          type="button"
          disabled={grams === null || scaleBusy.value !== null}
          onClick={() => void zeroNow(cell)}
        >
          {alone ? say.scale.zero : say.scale.zeroOf({ cell: String(cell + 1) })}
        </button>
        <small>{zeroed ? say.scale.fromZero : say.scale.fromSettings}</small>
      </p>
      {findings.map(({ code, sentence }) => (
        <p class="note" key={code}>
          {codes[code] ?? <Told>{sentence}</Told>}
        </p>
      ))}
      {health !== null && <Health health={health} />}
    </div>
  );
}
