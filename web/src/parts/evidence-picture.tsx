import { evidencePlot, type Finding, plotBox } from '../state/evidence-plot.ts';
import { exact } from '../state/format.ts';
import { say } from '../state/say.ts';

const words = say.findings.picture;
const short = (value: number): string => exact(Number(value.toPrecision(3)));

/** Why a finding was made, drawn: what was seen as a line with dots, what was expected dashed, a limit dotted. */
export function EvidencePicture({ evidence }: Pick<Finding, 'evidence'>) {
  const { lines, x, y } = evidencePlot(evidence);
  const { width, height, left, right, top, bottom } = plotBox;
  const foot = height - bottom;
  const roles = [...new Set(lines.map(({ role }) => role))];
  const [across, up] = [words.axes[evidence.x], words.axes[evidence.y]];
  return (
    <figure class="evidence">
      <figcaption class="note">{up}</figcaption>
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={words.label({ up, across })}>
        <path class="ev-axis" d={`M${left} ${top}V${foot}H${width - right}`} />
        <text x={left - 4} y={top + 9} text-anchor="end">
          {short(y[1])}
        </text>
        <text x={left - 4} y={foot} text-anchor="end">
          {short(y[0])}
        </text>
        <text x={left} y={height - 5}>
          {short(x[0])}
        </text>
        <text x={width - right} y={height - 5} text-anchor="end">
          {short(x[1])}
        </text>
        <text x={(left + width - right) / 2} y={height - 5} text-anchor="middle">
          {across}
        </text>
        {lines.map(({ role, path, dots }, index) => (
          <g key={`${role}-${index}`} class={`ev-${role}`}>
            {path !== '' && <path d={path} />}
            {dots.map(([cx, cy]) => (
              <circle key={`${cx} ${cy}`} cx={cx} cy={cy} r="2.6" />
            ))}
          </g>
        ))}
      </svg>
      <ul class="keys note">
        {roles.map((role) => (
          <li key={role}>
            <svg viewBox="0 0 20 20" class={`ev-${role}`} aria-hidden="true">
              <path d="M0 10H20" />
              {role === 'seen' && <circle cx="10" cy="10" r="4" />}
            </svg>
            {words.roles[role]}
          </li>
        ))}
      </ul>
    </figure>
  );
}
