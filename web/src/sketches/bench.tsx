import { say } from '../state/say.ts';
import { Sketch, Span } from './sketch.tsx';

/** Sketches for the bench: counted seeds, a measure struck level. */

const words = say.setup.sketches;

const seeds = (x: number, y: number): [number, number][] =>
  [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map((index) => [x + 11 * (index % 5), y + 12 * Math.floor(index / 5)]);

/** Seeds counted out in portions, each weighed alone. */
export function CountSketch() {
  const { title, text, portion, weigh } = words.count;
  return (
    <Sketch title={title} description={text} width={290} height={130}>
      {[20, 100, 180].map((x) => (
        <g key={x}>
          <path class="thin" d={`M${x - 8} 18h62v36h-62z`} />
          {seeds(x, 30).map(([cx, cy]) => (
            <ellipse key={`${cx} ${cy}`} class="fill-dark" cx={cx} cy={cy} rx="4" ry="2.5" />
          ))}
        </g>
      ))}
      <text x="252" y="42">
        …
      </text>
      <text x="12" y="74">
        {portion}
      </text>
      <path class="solid" d="M198 96h66M206 96v12h50v-12M190 108h82v14h-82z" />
      <path class="leader" d="M231 62v26m-5-7l5 7 5-7" />
      <text x="182" y="120" text-anchor="end">
        {weigh}
      </text>
    </Sketch>
  );
}

/** A measure of known volume, filled without shaking and struck level. */
export function MeasureSketch() {
  const { title, text, level, volume } = words.measure;
  return (
    <Sketch title={title} description={text} width={290} height={140}>
      <path class="solid" d="M60 40v80q40 10 80 0V40" />
      <path class="fill" d="M60 40h80v80q-40 10-80 0z" />
      <path class="mark" d="M40 36h124" />
      <path class="leader" d="M168 36h16m-6-5l6 5-6 5" />
      <text x="190" y="40">
        {level}
      </text>
      <Span from={[156, 44]} to={[156, 120]} />
      <text x="166" y="88">
        {volume}
      </text>
    </Sketch>
  );
}
