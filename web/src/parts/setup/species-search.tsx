import { useEffect, useRef, useState } from 'preact/hooks';
import type { SpeciesAnswer, SpeciesView } from '../../../../server/http/setup-messages.ts';
import * as api from '../../state/api.ts';
import { sentence } from '../../state/doing.ts';
import { figure } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { addLot, addPart } from '../../state/setup/parts.ts';
import { partOfSpecies, past } from '../../state/setup/past.ts';
import { EntryInput } from '../entry-input.tsx';
import { Waiting } from './helper.tsx';

const words = say.setup.seed;

/** Species found for what is typed; of several requests under way the last counts. */
function useFound(text: string) {
  const [found, setFound] = useState<SpeciesAnswer | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const asked = useRef(0);
  useEffect(() => {
    const number = ++asked.current;
    if (text.trim().length < 2) {
      setFound(null);
      setBusy(false);
      return;
    }
    setBusy(true);
    void api.findSpecies(text.trim().slice(0, 80)).then((answer) => {
      if (number !== asked.current) return;
      setBusy(false);
      setTrouble(answer.ok ? null : sentence(answer));
      if (answer.ok) setFound(answer.value);
    });
  }, [text]);
  return { found, trouble, busy };
}

/** Name and range of a species as one can choose it. */
function Choice({ species, choose }: { species: SpeciesView; choose: () => void }) {
  const { commonName, latinName, thousandSeedWeight } = species;
  const { low, high } = thousandSeedWeight;
  return (
    <li>
      <button type="button" class="choice" data-enter onClick={choose}>
        <b lang="en">{commonName}</b> <i lang="la">{latinName}</i>{' '}
        <span>{words.range({ low: figure(low), high: figure(high) })}</span>
      </button>
    </li>
  );
}

/** Lots on record whose name begins with what is typed. */
function PastLots({ text, done }: { text: string; done: () => void }) {
  const typed = text.trim().toLowerCase();
  const lots = (past.value?.lots ?? []).filter(({ part }) => part.name.toLowerCase().includes(typed));
  if (lots.length === 0) return null;
  return (
    <div class="past">
      <p class="help">{say.setup.past.lots}</p>
      <ul class="touches">
        {lots.slice(0, 6).map(({ id, part }) => (
          <li key={id}>
            <button
              type="button"
              onClick={() => {
                addLot(part);
                done();
              }}
            >
              {part.name}
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** Finds a species in the table, or a lot on record, and adds it to what the seed is made of. `label`: what adding it is for. */
export function SpeciesSearch({ label, withLots }: { label: string; withLots: boolean }) {
  const [text, setText] = useState('');
  const { found, trouble, busy } = useFound(text);
  const choose = (species: SpeciesView) => {
    addPart(partOfSpecies(species));
    setText('');
  };
  return (
    <div class="search" data-beside>
      <EntryInput
        id="species-search"
        label={label}
        help={words.findHelp}
        keys="text"
        value={text}
        fault={trouble}
        onType={setText}
      />
      <Waiting busy={busy} />
      <div aria-live="polite">
        {found !== null && found.total === 0 && <p>{words.none}</p>}
        {found !== null && found.total > found.species.length && (
          <p class="help">{words.found({ shown: found.species.length, total: found.total })}</p>
        )}
      </div>
      <ul class="choices-found">
        {(found?.species ?? []).map((species) => (
          <Choice key={species.key} species={species} choose={() => choose(species)} />
        ))}
      </ul>
      {withLots && <PastLots text={text} done={() => setText('')} />}
    </div>
  );
}
