import type { CalibrationView } from '../../../../server/http/calibration-messages.ts';
import {
  type ComparedCurve,
  comparedCurve,
  comparedEnds,
  type Dot,
  ticksIn,
} from '../../state/records/compare.ts';
import { say } from '../../state/say.ts';
import { system } from '../../state/store.ts';
import { shown } from '../../state/units.ts';
import { markWords, rateNumber } from '../rate-words.ts';

const words = say.records.compare;

/** The drawing's own units. */
const size = { width: 640, height: 340, left: 92, bottom: 62, top: 12, right: 16 };
interface Place {
  x: (mark: number) => number;
  y: (rate: number) => number;
}

const points = (dots: readonly Dot[], { x, y }: Place): string =>
  dots.map((dot) => `${x(dot.x).toFixed(1)},${y(dot.y).toFixed(1)}`).join(' ');

const isFirst = (name: 'first' | 'second'): boolean => name === 'first';

/** One of the two: told apart by the line's dashes and the runs' shapes, not by colour. */
function Curve({ curve, name, place }: { curve: ComparedCurve; name: 'first' | 'second'; place: Place }) {
  const { line, low, high, runs } = curve;
  return (
    <g class={`compare-${name}`}>
      <polygon class="compare-band" points={points([...low, ...high.toReversed()], place)} />
      <polyline class="compare-line" points={points(line, place)} />
      {runs.map((dot) => {
        const [x, y] = [place.x(dot.x), place.y(dot.y)];
        const key = `${dot.x} ${dot.y}`;
        return isFirst(name) ? (
          <circle key={key} cx={x} cy={y} r="5" />
        ) : (
          <rect key={key} x={x - 5} y={y - 5} width="10" height="10" />
        );
      })}
    </g>
  );
}

function Key({ name, text }: { name: 'first' | 'second'; text: string }) {
  return (
    <li>
      <svg viewBox="0 0 40 20" aria-hidden="true" class={`compare-${name}`}>
        <path class="compare-line" d="M0 10H40" />
        {isFirst(name) ? <circle cx="20" cy="10" r="5" /> : <rect x="15" y="5" width="10" height="10" />}
      </svg>
      {text}
    </li>
  );
}

/** Both setting curves in one picture; its figures stand in the table beside it. */
export function CompareCurves({ views }: { views: readonly [CalibrationView, CalibrationView] }) {
  const [first, second] = [comparedCurve(views[0]), comparedCurve(views[1])];
  const ends = comparedEnds([first, second]);
  if (ends === null) return <p>{words.noCurves}</p>;
  const { width, height, left, bottom, top, right } = size;
  const place: Place = {
    x: (mark) => left + ((mark - ends.x.min) / (ends.x.max - ends.x.min)) * (width - left - right),
    y: (rate) =>
      height - bottom - ((rate - ends.y.min) / (ends.y.max - ends.y.min)) * (height - bottom - top),
  };
  return (
    <figure class="compare">
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={words.curvesLabel}>
        <path class="compare-axes" d={`M${left} ${top}V${height - bottom}H${width - right}`} />
        {ticksIn(ends.x).map((mark) => (
          <text key={mark} x={place.x(mark)} y={height - bottom + 24} text-anchor="middle">
            {markWords(mark)}
          </text>
        ))}
        {ticksIn(ends.y).map((rate) => (
          <text key={rate} x={left - 8} y={place.y(rate) + 4} text-anchor="end">
            {rateNumber(rate)}
          </text>
        ))}
        <text x={(left + width) / 2} y={height - 8} text-anchor="middle">
          {words.axis}
        </text>
        <text x={left + 6} y={top + 6}>
          {shown[system.value].rate}
        </text>
        <Curve curve={first} name="first" place={place} />
        <Curve curve={second} name="second" place={place} />
      </svg>
      <ul class="keys note">
        <Key name="first" text={`${words.first}: ${views[0].drillName}, ${views[0].seedName}`} />
        <Key name="second" text={`${words.second}: ${views[1].drillName}, ${views[1].seedName}`} />
      </ul>
    </figure>
  );
}
