import { useEffect, useRef } from 'preact/hooks';
import { BagSketch } from '../../sketches/drill.tsx';
import { say } from '../../state/say.ts';
import { settingNumber } from '../../state/setup/complete.ts';
import { past, takeDrill } from '../../state/setup/past.ts';
import { form } from '../../state/store.ts';
import { FieldInput, type InputId } from '../field.tsx';
import { GearsHelper, RanksHelper, WheelHelper } from './drill-helpers.tsx';
import { Past } from './past.tsx';
import { Why } from './why.tsx';

const words = say.setup;
const doubts: InputId[] = ['rowSpacingDoubt', 'circumferenceDoubt', 'slipDoubt', 'closedAt', 'leverPlay'];

/** Said of a setting that has no place on its scale. */
function SettingNote() {
  const { drill } = form.value!.plan;
  const written = drill.setting.trim();
  const named = drill.scale?.marks?.some((mark) => mark.toLowerCase() === written.toLowerCase()) ?? false;
  if (!drill.scale || written === '' || named || settingNumber(written) !== null) return null;
  return <p class="note">{words.noPlace}</p>;
}

/** The drill: one used before or another, its rows and its wheel. */
export function DrillPanel() {
  return (
    <fieldset class="panel group step">
      <legend>{say.form.groups.drill}</legend>
      <Past
        title={words.past.drills}
        items={(past.value?.drills ?? []).map(({ id, drill }) => ({
          id,
          name: drill.name,
          note: drill.scale?.configuration ?? '',
          take: () => takeDrill(drill),
        }))}
      />
      <div class="fields">
        <FieldInput id="drillName" />
        <FieldInput id="rowSpacing">
          <Why id="rowSpacing" />
        </FieldInput>
        <FieldInput id="circumference">
          <Why id="circumference" />
        </FieldInput>
        <FieldInput id="slip">
          <Why id="slip" />
        </FieldInput>
        <FieldInput id="rowsCaught">
          <Why id="rowsCaught" />
        </FieldInput>
        <FieldInput id="rowCount" />
      </div>
      <RanksHelper />
      <WheelHelper />
      <details class="helper">
        <summary>{words.bag}</summary>
        <div class="helper-body">
          <BagSketch />
        </div>
      </details>
    </fieldset>
  );
}

/** The setting scale, its gate or gear, and the shaft that the sensor counts. */
export function ScalePanel() {
  const named = (form.value!.plan.drill.scale?.marks?.length ?? 0) > 0;
  return (
    <fieldset class="panel group step">
      <legend>{say.form.groups.scale}</legend>
      <p class="help">{say.form.scaleIntro}</p>
      <div class="fields">
        {!named && (
          <>
            <FieldInput id="scaleLow" />
            <FieldInput id="scaleHigh" />
            <FieldInput id="scaleStep">
              <Why id="scaleStep" />
            </FieldInput>
          </>
        )}
        <FieldInput id="setting">
          <SettingNote />
        </FieldInput>
      </div>
      <details class="helper" open={named}>
        <summary>{words.more}</summary>
        <div class="helper-body">
          <div class="fields">
            <FieldInput id="scaleMarks" />
            <FieldInput id="configuration" />
            <FieldInput id="otherConfigurations" />
            <FieldInput id="shaftRatio">
              <Why id="shaftRatio" />
            </FieldInput>
          </div>
          <GearsHelper />
        </div>
      </details>
    </fieldset>
  );
}

/** Folded, but never over a fault. */
export function Doubts() {
  const details = useRef<HTMLDetailsElement>(null);
  const faulty = doubts.some((id) => form.value?.faults[id] !== undefined);
  useEffect(() => {
    if (faulty && details.current !== null) details.current.open = true;
  }, [faulty]);
  return (
    <details ref={details} class="panel group doubts">
      <summary>{say.form.groups.doubts}</summary>
      <p class="help">{say.form.doubtsIntro}</p>
      <div class="fields">
        {doubts.map((id) => (
          <FieldInput key={id} id={id} />
        ))}
      </div>
    </details>
  );
}
