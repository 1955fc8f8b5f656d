import { say } from '../state/say.ts';
import { Ground, Sketch, Span, Wheel } from './sketch.tsx';

/** Sketches for the drill: rows, wheel, sensor, bag. */

const words = say.setup.sketches;

/** Openers from above in two ranks: spacing within a rank, and from row to row. */
export function RanksSketch() {
  const { title, text, within, rows } = words.ranks;
  const front = [40, 100, 160, 220];
  const rear = [70, 130, 190, 250];
  return (
    <Sketch title={title} description={text} width={290} height={150}>
      <path class="solid" d="M20 34H270M20 84H270" />
      {front.map((x) => (
        <path key={x} class="dark" d={`M${x - 4} 28h8v12l-4 8-4-8z`} />
      ))}
      {rear.map((x) => (
        <path key={x} class="dark" d={`M${x - 4} 78h8v12l-4 8-4-8z`} />
      ))}
      {[...front, ...rear].map((x) => (
        <path key={x} class="dashed" d={`M${x} 100V140`} />
      ))}
      <Span from={[100, 20]} to={[160, 20]} label={within} off={-6} />
      <Span from={[130, 124]} to={[160, 124]} label={rows} off={18} />
    </Sketch>
  );
}

/** A tape around the tyre. */
export function TapeSketch() {
  const { title, text, tape } = words.tape;
  return (
    <Sketch title={title} description={text} width={290} height={150}>
      <Ground y={132} from={20} to={180} />
      <Wheel x={95} y={76} radius={52} />
      <circle class="measure" cx="95" cy="76" r="57" />
      <path class="measure" d="M152 76h40v14h-40z" />
      <path class="thin" d="M160 83v7M168 80v10M176 83v7M184 80v10" />
      <text x="162" y="68">
        {tape}
      </text>
    </Sketch>
  );
}

/** A mark on the tyre rolled over the ground, several turns. */
export function RollSketch() {
  const { title, text, start, end, way } = words.roll;
  return (
    <Sketch title={title} description={text} width={290} height={150}>
      <Ground y={96} from={10} to={280} />
      <Wheel x={45} y={58} radius={36} />
      <path class="mark" d="M45 94v-12" />
      <g class="faint">
        <Wheel x={245} y={58} radius={36} />
      </g>
      <path class="mark" d="M245 94v-12" />
      <path class="thin" d="M60 16q92 -14 170 0m-8 -6l8 6-9 4" />
      <path class="dashed" d="M45 96v26M245 96v26" />
      <Span from={[45, 120]} to={[245, 120]} label={way} off={-5} />
      <text x="45" y="144" text-anchor="middle">
        {start}
      </text>
      <text x="286" y="144" text-anchor="end">
        {end}
      </text>
    </Sketch>
  );
}

/** The bag hung under a seed tube from the load cell. */
export function BagSketch() {
  const { title, text, tube, bag, cell } = words.bag;
  return (
    <Sketch title={title} description={text} width={290} height={170}>
      <path class="solid" d="M30 14h90v24l-24 18h-42l-24-18z" />
      <path class="solid" d="M68 56v26m14-26v26" />
      <path class="thin" d="M75 60v3m0 6v3m0 6v3m0 8v3m0 8v3" />
      <path class="dark" d="M30 84h20v10h-20zM100 84h20v10h-20z" />
      <path class="thin" d="M46 94l8 14m50-14l-8 14" />
      <path class="solid" d="M52 108h46l10 44q-33 14-66 0z" />
      <path class="fill" d="M46 138q29 -9 58 0l3 14q-32 13-64 0z" />
      <text x="130" y="72">
        {tube}
      </text>
      <text x="130" y="95">
        {cell}
      </text>
      <text x="130" y="140">
        {bag}
      </text>
      <path class="leader" d="M84 68h42M121 90h6M106 136h20" />
    </Sketch>
  );
}

/** Magnets on the wheel or on a shaft behind gears, and the sensor beside them. */
export function SensorSketch() {
  const { title, text, magnet, sensor, shaft } = words.sensor;
  const magnets = [0, 1, 2, 3].map((index) => {
    const angle = (index * Math.PI) / 2 + 0.5;
    return [75 + 30 * Math.cos(angle), 72 + 30 * Math.sin(angle)] as const;
  });
  return (
    <Sketch title={title} description={text} width={290} height={165}>
      <Wheel x={75} y={72} radius={50} />
      {magnets.map(([x, y]) => (
        <circle key={`${x}`} class="mark" cx={x} cy={y} r="5" />
      ))}
      <path class="dark" d="M128 40h26v12h-26z" />
      <text x="160" y="51">
        {sensor}
      </text>
      <path class="leader" d="M105 62L160 78" />
      <text x="163" y="82">
        {magnet}
      </text>
      <circle class="thin" cx="75" cy="72" r="14" />
      <circle class="solid" cx="205" cy="118" r="20" />
      <circle class="thin" cx="205" cy="118" r="5" />
      <path class="dashed" d="M78 86L204 138M80 58L208 98" />
      <text x="232" y="158" text-anchor="middle">
        {shaft}
      </text>
    </Sketch>
  );
}
