import type { AdviceView } from '../../../server/http/calibration-messages.ts';
import { exact, figure, percent, wholeTurns } from '../state/format.ts';
import { say } from '../state/say.ts';
import { toldWords } from '../state/told.ts';
import { markWords, rateNumber, rateWords } from './rate-words.ts';
import { Told } from './told.tsx';

const words = say.setting;
type Explained = AdviceView['explanation'];

/** A figure of the explanation in the units chosen. */
function amount(value: number, unit: Explained['unit']): string {
  switch (unit) {
    case 'g/m²':
      return rateWords(value);
    case 'g/m² per mark':
      return words.units['g/m² per mark']({ rate: rateWords(value) });
    case 'mark':
      return words.units.mark({ value: markWords(Number(value.toFixed(2))) });
    case 'fraction':
      return say.result.percent({ share: percent(value) });
    case 'runs':
      return words.units.runs({ count: value });
    case 'turns':
      return words.units.turns({ count: wholeTurns(value) });
    default:
      return figure(value);
  }
}

/** The ends of an interval, without the unit's name. */
function ends({ low, high }: { low: number; high: number }, unit: Explained['unit']): string {
  const write = (value: number) =>
    unit === 'g/m²' || unit === 'g/m² per mark'
      ? rateNumber(value)
      : unit === 'fraction'
        ? percent(value)
        : exact(Number(value.toFixed(2)));
  return words.how.interval({ low: write(low), high: write(high) });
}

function Line({ what, value, unit, interval }: Explained) {
  return (
    <>
      {value === null ? <Told>{what}</Told> : toldWords(what).replace(/\.$/, '')}
      {value !== null && (
        <>
          : <b>{amount(value, unit)}</b>
        </>
      )}
      {interval !== null && <small> ({ends(interval, unit)})</small>}
    </>
  );
}

/** A figure that unfolds into what it was computed from, as deep as it goes. */
function Branch({ node }: { node: Explained }) {
  if (node.from.length === 0) {
    return (
      <li class="leaf">
        <Line {...node} />
      </li>
    );
  }
  return (
    <li>
      <details>
        <summary>
          <Line {...node} />
        </summary>
        <Branches nodes={node.from} />
      </details>
    </li>
  );
}

function Branches({ nodes }: { nodes: readonly Explained[] }) {
  return (
    <ul class="tree">
      {nodes.map((node, index) => (
        <Branch key={index} node={node} />
      ))}
    </ul>
  );
}

/** The way from the recommendation down to the numbers that it came from. */
export function HowFound({ explanation }: Pick<AdviceView, 'explanation'>) {
  return (
    <section class="panel" aria-labelledby="how-title">
      <h2 id="how-title">{words.how.title}</h2>
      <p>
        <Line {...explanation} />
      </p>
      <Branches nodes={explanation.from} />
    </section>
  );
}
