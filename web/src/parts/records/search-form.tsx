import type { Item } from '../../../../server/http/records-messages.ts';
import { isNarrowed, lookedThrough, nothingWanted, type Wanted, wanted } from '../../state/records/search.ts';
import { say } from '../../state/say.ts';

const words = say.records;

const narrow = (more: Partial<Wanted>) => {
  wanted.value = { ...wanted.value, ...more };
};

function Choice({
  id,
  label,
  value,
  names,
  onChoose,
}: {
  id: string;
  label: string;
  value: string;
  names: readonly (Item<'drill'> | Item<'mix'>)[];
  onChoose: (id: string) => void;
}) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChoose(event.currentTarget.value)}>
        <option value="">{words.any}</option>
        {names.map((item) => (
          <option key={item.id} value={item.id}>
            {item.fields.name}
          </option>
        ))}
      </select>
    </div>
  );
}

function Day({
  id,
  label,
  value,
  onType,
}: {
  id: string;
  label: string;
  value: string;
  onType: (day: string) => void;
}) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input id={id} type="date" value={value} onInput={(event) => onType(event.currentTarget.value)} />
    </div>
  );
}

/** On a narrow screen what was found would be far below. */
const isWide = (): boolean => matchMedia('(min-width: 48rem)').matches;

/** What to look through and what to look for; the list below follows while one types. */
export function SearchForm({
  drills,
  mixes,
}: {
  drills: readonly Item<'drill'>[];
  mixes: readonly Item<'mix'>[];
}) {
  const { kind, text, drill, mix, from, until } = wanted.value;
  return (
    <form class="search" aria-label={words.search} onSubmit={(event) => event.preventDefault()}>
      <fieldset class="row kinds">
        <legend>{words.which}</legend>
        {lookedThrough.map((one) => (
          <label key={one} class="button">
            <input
              type="radio"
              name="looked-through"
              checked={one === kind}
              onChange={() => narrow({ kind: one })}
            />
            {words.kinds[one]}
          </label>
        ))}
      </fieldset>
      <div class="field search-text">
        <label for="records-text">{words.text}</label>
        <input
          id="records-text"
          type="search"
          value={text}
          maxLength={200}
          autocomplete="off"
          aria-describedby="records-text-help"
          onInput={(event) => narrow({ text: event.currentTarget.value })}
        />
        <p id="records-text-help" class="help">
          {words.textHelp}
        </p>
      </div>
      <details class="search-more" open={isWide() || drill + mix + from + until !== ''}>
        <summary>{words.narrow}</summary>
        <div class="search-fields">
          <Choice
            id="records-drill"
            label={words.drill}
            value={drill}
            names={drills}
            onChoose={(id) => narrow({ drill: id })}
          />
          <Choice
            id="records-mix"
            label={words.mix}
            value={mix}
            names={mixes}
            onChoose={(id) => narrow({ mix: id })}
          />
          <Day id="records-from" label={words.from} value={from} onType={(day) => narrow({ from: day })} />
          <Day
            id="records-until"
            label={words.until}
            value={until}
            onType={(day) => narrow({ until: day })}
          />
        </div>
      </details>
      {isNarrowed(wanted.value) && (
        <p>
          <button
            type="button"
            class="quiet"
            onClick={() => {
              wanted.value = { ...nothingWanted, kind };
            }}
          >
            {words.clear}
          </button>
        </p>
      )}
    </form>
  );
}
