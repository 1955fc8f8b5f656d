import { useEffect, useRef, useState } from 'preact/hooks';
import { chooseSystem } from '../state/doing.ts';
import { address, places } from '../state/route.ts';
import { say } from '../state/say.ts';
import { fresh, live, route, system } from '../state/store.ts';
import { toldWords } from '../state/told.ts';
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
    <a class={classes.join(' ')} href={address('stand')} title={toldWords(link.sentence)}>
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

/** The way to every place: a row of links, or where room is short one button that unfolds them. */
function Places() {
  const { place } = route.value;
  const [open, setOpen] = useState(false);
  const menu = useRef<HTMLElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (!open) return;
    const leave = ({ target }: Event) => {
      if (target instanceof Node && !menu.current?.contains(target)) setOpen(false);
    };
    addEventListener('pointerdown', leave);
    addEventListener('focusin', leave);
    return () => {
      removeEventListener('pointerdown', leave);
      removeEventListener('focusin', leave);
    };
  }, [open]);
  const close = ({ key }: KeyboardEvent) => {
    if (key !== 'Escape' || !open) return;
    setOpen(false);
    button.current?.focus();
  };
  return (
    <nav
      ref={menu}
      class={open ? 'places places-open' : 'places'}
      aria-label={say.page.menu}
      onKeyDown={close}
    >
      <button
        ref={button}
        type="button"
        class="places-button"
        aria-expanded={open}
        aria-controls="places"
        onClick={() => setOpen(!open)}
      >
        <svg viewBox="0 0 16 16" aria-hidden="true">
          <path d="M2 4h12M2 8h12M2 12h12" />
        </svg>
        <span class="unseen">{say.page.menu}: </span>
        {say.places[place]}
      </button>
      <div id="places" class="places-list">
        {places.map((one) => (
          <a
            key={one}
            href={address(one)}
            aria-current={one === place ? 'page' : undefined}
            onClick={() => setOpen(false)}
          >
            {say.places[one]}
          </a>
        ))}
      </div>
    </nav>
  );
}

export function TopBar() {
  return (
    <div class="top">
      <span class="name">
        {say.page.name}
        {live.value.demo && <b class="demo-mark">{say.page.demo}</b>}
      </span>
      <Places />
      <LinkChip />
      <Units />
    </div>
  );
}
