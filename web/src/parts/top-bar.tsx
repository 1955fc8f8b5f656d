import { chooseSystem } from '../state/doing.ts';
import { address, places } from '../state/route.ts';
import { say } from '../state/say.ts';
import { fresh, live, route, system } from '../state/store.ts';
import { systems } from '../state/units.ts';
import { ageWords } from './banner.tsx';

/** How the link is, everywhere. `told`: the banner says it already. */
function LinkChip() {
  const { link, socket, run } = live.value;
  if (link === null || socket !== 'open') return null;
  const well = link.condition === 'connected';
  const told = run?.figures.phase !== 'finished';
  const aged = link.condition === 'silent' || link.condition === 'lost';
  const classes = ['chip', ...(well ? [] : ['chip-wrong']), ...(well || told ? ['chip-told'] : [])];
  return (
    <a class={classes.join(' ')} href={address('stand')} title={link.sentence}>
      <svg viewBox="0 0 16 16" aria-hidden="true">
        {well ? <circle cx="8" cy="8" r="5" /> : <path d="M3 3l10 10M13 3L3 13" />}
      </svg>
      <span>
        {say.conditions[link.condition]}
        {aged && `, ${ageWords(fresh.value.ageMillis)}`}
      </span>
    </a>
  );
}

function Units() {
  return (
    <fieldset class="units">
      <legend class="unseen">{say.units.choose}</legend>
      {systems.map((one) => (
        <label key={one}>
          <input
            type="radio"
            name="units"
            checked={system.value === one}
            onChange={() => chooseSystem(one)}
          />
          <span>{say.units[one]}</span>
        </label>
      ))}
    </fieldset>
  );
}

export function TopBar() {
  const { place } = route.value;
  return (
    <div class="top">
      <span class="name">
        {say.page.name}
        {live.value.demo && <b class="demo-mark">{say.page.demo}</b>}
      </span>
      <nav aria-label={say.page.name}>
        {places.map((one) => (
          <a key={one} href={address(one)} aria-current={one === place ? 'page' : undefined}>
            {say.places[one]}
          </a>
        ))}
      </nav>
      <LinkChip />
      <Units />
    </div>
  );
}
