import { useId } from 'preact/hooks';
import { along, type Span } from '../state/span.ts';

interface GaugeProps {
  span: Span;
  target: number;
  /** Edges of what counts as right. */
  low: number;
  high: number;
  value: number | null;
  /** Edges of the 95 % interval of the value, drawn as a bar across it. */
  doubt?: { low: number; high: number };
  /** Filled from the left end, as a vessel; otherwise a pointer. */
  filled: boolean;
  label: string;
}

/**
 * A level scale: the hatched stretch is what counts as right, the notch its middle; the value fills up to it or points at it.
 * Shapes carry the meaning; colour only helps.
 */
export function Gauge({ span, target, low, high, value, doubt, filled, label }: GaugeProps) {
  const hatch = useId();
  const at = (amount: number) => along(amount, span.from, span.to);
  const percent = (amount: number) => `${at(amount)}%`;
  const width = (from: number, to: number) => `${at(to) - at(from)}%`;
  return (
    <svg class="gauge" role="img" aria-label={label} height="44">
      <defs>
        <pattern id={hatch} width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect class="hatch-ground" width="8" height="8" />
          <rect class="hatch-line" width="3" height="8" />
        </pattern>
      </defs>
      <rect class="trough" x="0" y="9" width="100%" height="26" rx="3" />
      {filled && value !== null && (
        <rect class="level" x="0" y="9" width={percent(Math.max(span.from, value))} height="26" rx="3" />
      )}
      <rect
        class="band"
        x={percent(low)}
        y="5"
        width={width(low, high)}
        height="34"
        fill={`url(#${hatch})`}
      />
      <line class="notch" x1={percent(target)} x2={percent(target)} y1="0" y2="44" />
      {doubt !== undefined && (
        <g class="doubt">
          <line x1={percent(doubt.low)} x2={percent(doubt.high)} y1="22" y2="22" />
          <line x1={percent(doubt.low)} x2={percent(doubt.low)} y1="14" y2="30" />
          <line x1={percent(doubt.high)} x2={percent(doubt.high)} y1="14" y2="30" />
        </g>
      )}
      {value !== null && (
        <svg
          class="pointer"
          x={percent(value)}
          y="0"
          width="1"
          height="44"
          overflow="visible"
          aria-hidden="true"
        >
          {filled ? <path d="M0 2V42" /> : <circle cx="0" cy="22" r="8" />}
        </svg>
      )}
    </svg>
  );
}
