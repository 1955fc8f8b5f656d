import { useState } from 'preact/hooks';
import { mayGoDark } from '../state/awake.ts';
import { chooseSystem } from '../state/doing.ts';
import { keptPage } from '../state/kept-page.ts';
import { type Language, language, languages } from '../state/language.ts';
import { chooseLanguage, sounds } from '../state/preferences.ts';
import { say } from '../state/say.ts';
import { canSound, hearThem } from '../state/sounds.ts';
import { system } from '../state/store.ts';
import { systems } from '../state/units.ts';
import { WhoIsHere } from './access/later.tsx';

const words = say.preferences;

/** Each language by its own name, so that whoever speaks it finds it. */
const names: Record<Language, string> = { en: 'English', fr: 'Français', es: 'Español', de: 'Deutsch' };

function Languages() {
  const [missing, setMissing] = useState(false);
  const choose = async (to: Language) => setMissing(!(await chooseLanguage(to)));
  return (
    <fieldset class="preference">
      <legend>{words.language}</legend>
      {languages.map((one) => (
        <label key={one} lang={one}>
          <input
            type="radio"
            name="language"
            checked={language.value === one}
            onChange={() => void choose(one)}
          />
          <span>{names[one]}</span>
        </label>
      ))}
      {missing && (
        <p class="fault" role="alert">
          {words.notFetched}
        </p>
      )}
    </fieldset>
  );
}

function UnitChoice() {
  return (
    <fieldset class="preference">
      <legend>{words.units}</legend>
      {systems.map((one) => (
        <label key={one}>
          <input
            type="radio"
            name="system"
            checked={system.value === one}
            onChange={() => chooseSystem(one)}
          />
          <span>{words[one]}</span>
        </label>
      ))}
      <p class="help">{words.unitsHelp}</p>
    </fieldset>
  );
}

function Sounds() {
  return (
    <fieldset class="preference">
      <legend>{words.sounds}</legend>
      <label>
        <input
          type="checkbox"
          checked={sounds.value}
          onChange={({ currentTarget }) => {
            sounds.value = currentTarget.checked;
          }}
        />
        <span>{words.soundsLabel}</span>
      </label>
      <p class="help">{words.soundsHelp}</p>
      {canSound() ? (
        <button type="button" onClick={hearThem}>
          {words.hear}
        </button>
      ) : (
        <p class="help">{words.noSound}</p>
      )}
    </fieldset>
  );
}

/** Whether the page opens without the server. */
function Kept() {
  const sentence = { unknown: say.kept.looking, kept: say.kept.here, cannot: say.kept.cannot }[
    keptPage.value
  ];
  return (
    <div>
      <h3>{say.kept.title}</h3>
      <p class="help" data-kept={keptPage.value}>
        {sentence}
      </p>
    </div>
  );
}

/** What a person chooses on this device: language, units, sounds. */
export function PreferencesPage() {
  return (
    <>
      <section class="panel preferences" aria-labelledby="preferences-title">
        <h2 id="preferences-title" class="page-title">
          {words.title}
        </h2>
        <p class="help">{words.intro}</p>
        <Languages />
        <UnitChoice />
        <Sounds />
        <div>
          <h3>{words.look}</h3>
          <p class="help">{words.lookHelp}</p>
        </div>
        <div>
          <h3>{words.screen}</h3>
          <p class="help">{mayGoDark.value ? words.screenMayGoDark : words.screenStays}</p>
        </div>
        <Kept />
      </section>
      <WhoIsHere />
    </>
  );
}
