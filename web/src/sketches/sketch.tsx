import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface SketchProps {
  /** What it shows, in a few words; seen below it too. */
  title: string;
  /** The same for someone who does not see it. */
  description: string;
  width: number;
  height: number;
  children: ComponentChildren;
}

/** A drawing of what to measure and where: lines in the page's own colours, a caption, and a description for those who hear the page. */
export function Sketch({ title, description, width, height, children }: SketchProps) {
  const id = useId();
  return (
    <figure class="sketch">
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-labelledby={`${id}-title ${id}-text`}>
        <title id={`${id}-title`}>{title}</title>
        <desc id={`${id}-text`}>{description}</desc>
        {children}
      </svg>
      <figcaption>{title}</figcaption>
    </figure>
  );
}

interface SpanProps {
  from: readonly [number, number];
  to: readonly [number, number];
  /** Written at its middle. */
  label?: string;
  /** Moves the label from the middle, across the line. */
  off?: number;
}

/** A measure with an arrow at each end, its name at the middle. */
export function Span({ from: [x1, y1], to: [x2, y2], label = '', off = -6 }: SpanProps) {
  const [dx, dy] = [x2 - x1, y2 - y1];
  const length = Math.hypot(dx, dy);
  const [ux, uy] = [dx / length, dy / length];
  const head = (x: number, y: number, side: 1 | -1) => {
    const [bx, by] = [x + side * 7 * ux, y + side * 7 * uy];
    return `M${bx - 3 * uy} ${by + 3 * ux}L${x} ${y}L${bx + 3 * uy} ${by - 3 * ux}`;
  };
  return (
    <>
      <path class="measure" d={`M${x1} ${y1}L${x2} ${y2}${head(x1, y1, 1)}${head(x2, y2, -1)}`} />
      {label !== '' && (
        <text x={(x1 + x2) / 2 - off * uy} y={(y1 + y2) / 2 + off * ux} text-anchor="middle">
          {label}
        </text>
      )}
    </>
  );
}

/** Ground: a line with short strokes below it. */
export function Ground({ y, from, to }: { y: number; from: number; to: number }) {
  const strokes: string[] = [];
  for (let x = from + 8; x < to; x += 14) strokes.push(`M${x} ${y}l-6 7`);
  return <path class="thin" d={`M${from} ${y}H${to}${strokes.join('')}`} />;
}

/** A wheel from the side: tyre, rim, hub and spokes. */
export function Wheel({ x, y, radius }: { x: number; y: number; radius: number }) {
  const spokes = [0, 1, 2, 3, 4, 5].map((index) => {
    const angle = (index * Math.PI) / 3 + 0.3;
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    return `M${x + 5 * cos} ${y + 5 * sin}L${x + 0.7 * radius * cos} ${y + 0.7 * radius * sin}`;
  });
  return (
    <>
      <circle class="solid" cx={x} cy={y} r={radius} />
      <circle class="thin" cx={x} cy={y} r={0.72 * radius} />
      <path class="thin" d={spokes.join('')} />
      <circle class="dark" cx={x} cy={y} r="4" />
    </>
  );
}
