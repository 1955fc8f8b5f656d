import type { ScaleResult } from '../../../../server/http/scale-messages.ts';
import { exact, figure, percent } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { keepCheck, scaleBusy } from '../../state/scale-place/scale-place.ts';
import { StateSign } from '../before-run/state-sign.tsx';
import { Told } from '../told.tsx';

/** A small share as per cent: never rounded to nothing. */
const share = (value: number): string => (value < 0.001 ? figure(100 * value) : percent(value));

interface Line {
  name: string;
  words: string;
  /** Worth a look. */
  wrong: boolean;
}

const codes = (result: ScaleResult): ReadonlySet<string> => new Set(result.warnings.map(({ code }) => code));

/** The slope in force against the one found. */
function slopeLine({ slopeError, slopeErrorHalf }: ScaleResult): Line {
  const half = share(slopeErrorHalf);
  const sure = Math.abs(slopeError) > slopeErrorHalf;
  const off = { percent: share(Math.abs(slopeError)), half };
  const words = !sure
    ? say.scale.slopeGood({ half })
    : slopeError > 0
      ? say.scale.slopeHigh(off)
      : say.scale.slopeLow(off);
  return { name: say.scale.slope, words, wrong: sure };
}

/** Each diagnostic in words, with whether it is more than chance and than matters. */
function linesOf(result: ScaleResult): Line[] {
  const found = codes(result);
  const { nonLinearity, hysteresis, zeroReturn, creep, repeatability, offCentre, spanGrams } = result;
  const at = ({ grams, load }: { grams: number; load: number }) => ({
    grams: figure(Math.abs(grams)),
    load: exact(load),
  });
  const missing = say.scale.notTried;
  const off = offCentre !== null && Math.abs(offCentre.grams) > Math.max(offCentre.half, spanGrams * 0.0005);
  return [
    slopeLine(result),
    { name: say.scale.linearity, words: say.scale.atLoad(at(nonLinearity)), wrong: found.has('bend') },
    {
      name: say.scale.hysteresis,
      words: hysteresis === null ? missing : say.scale.atLoad(at(hysteresis)),
      wrong: found.has('hysteresis'),
    },
    {
      name: say.scale.zeroReturn,
      words: zeroReturn === null ? missing : say.scale.grams({ grams: figure(zeroReturn) }),
      wrong: found.has('zero-return'),
    },
    {
      name: say.scale.creep,
      words: creep === null ? say.scale.noneSeen : say.scale.atLoad(at(creep)),
      wrong: found.has('creep'),
    },
    {
      name: say.scale.repeats,
      words: repeatability === null ? missing : say.scale.grams({ grams: figure(repeatability) }),
      wrong: false,
    },
    {
      name: say.scale.offCentre,
      words:
        offCentre === null
          ? missing
          : say.scale.offMiddle({ grams: figure(offCentre.grams), place: say.scale.places[offCentre.place] }),
      wrong: off,
    },
  ];
}

function ClassLines({ classAsFound, classAsLeft }: ScaleResult) {
  const told = (line: ScaleResult['classAsFound']) =>
    line === null
      ? say.scale.noClass
      : say.scale.behaves({ interval: exact(line.interval), least: exact(line.leastLoad) });
  return (
    <>
      <p>
        <b>{say.scale.asFound}</b> {told(classAsFound)}
      </p>
      <p>
        <b>{say.scale.asLeft}</b> {told(classAsLeft)}
      </p>
      <p class="help">{say.scale.yardstick}</p>
    </>
  );
}

/** What the weighings say together, and what to do with it. */
export function ScaleResultPanel({ result, done }: { result: ScaleResult; done: boolean }) {
  const advice = say.scale.warnings as Record<string, string>;
  const busy = scaleBusy.value !== null;
  return (
    <div class="scale-result">
      <h4>{done ? say.scale.result : say.scale.resultSoFar}</h4>
      <p class="verdict">
        {!result.passed
          ? say.scale.notSound
          : slopeLine(result).wrong
            ? say.scale.soundButOff
            : say.scale.sound}
      </p>
      <ul class="scale-lines">
        {linesOf(result).map(({ name, words, wrong }) => (
          <li key={name}>
            <StateSign state={wrong ? 'wrong' : words === say.scale.notTried ? 'unknown' : 'good'} />
            <span>
              <b>{name}</b> {words}
            </span>
          </li>
        ))}
      </ul>
      {result.warnings.map(({ code, sentence }) => (
        <p class="note" key={code}>
          {advice[code] ?? <Told>{sentence}</Told>}
        </p>
      ))}
      <ClassLines {...result} />
      <p class="row">
        <button type="button" class={done ? 'go' : ''} disabled={busy} onClick={() => void keepCheck(true)}>
          {say.scale.write}
        </button>
        <button type="button" disabled={busy} onClick={() => void keepCheck(false)}>
          {say.scale.keep}
        </button>
      </p>
      <p class="help">{say.scale.writeHelp({ percent: share(result.slopeDoubt) })}</p>
      <p class="help">{say.scale.keepHelp({ percent: share(result.doubtAsItIs) })}</p>
    </div>
  );
}
