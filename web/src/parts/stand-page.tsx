import { useEffect, useState } from 'preact/hooks';
import type { PortsAnswer } from '../../../server/http/messages.ts';
import { listPorts } from '../state/api.ts';
import { usePort } from '../state/doing.ts';
import { say } from '../state/say.ts';
import { live, pending } from '../state/store.ts';
import { ScalePlace } from './scale/scale-place.tsx';
import { StandCheck } from './stand-check.tsx';
import { Told } from './told.tsx';

function BoardFacts() {
  const board = live.value.link?.board ?? null;
  if (board === null) return null;
  const facts: [string, string][] = [
    [say.stand.board, board.name],
    [say.stand.firmware, board.firmware],
    [say.stand.cells, String(board.cells)],
    [say.stand.pulses, String(board.pulsesPerTurn)],
    [
      say.stand.settings,
      (say.stand.settingsWords as Record<string, string>)[board.settings] ?? board.settings,
    ],
    [say.stand.boots, String(board.boot)],
  ];
  return (
    <dl class="facts">
      {facts.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Choosing a port from those found or by its path. */
function PortChoice() {
  const [ports, setPorts] = useState<PortsAnswer['ports'] | null>(null);
  const [path, setPath] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const busy = pending.value !== null;
  const look = () => void listPorts().then((answer) => setPorts(answer.ok ? answer.value.ports : []));
  const use = (wanted: string | null) => {
    const typed = wanted?.trim() ?? null;
    if (typed === '') setProblem(say.stand.pathMissing);
    else void usePort(typed).then(setProblem);
  };
  useEffect(look, []);
  return (
    <section class="panel" aria-labelledby="choose-title">
      <h2 id="choose-title">{say.stand.choose}</h2>
      <ul class="ports">
        {ports?.map((port) => (
          <li key={port.path}>
            <span>
              <b>{port.path}</b> {port.label}
            </span>
            {port.path === live.value.link?.path ? (
              <em>{say.stand.inUse}</em>
            ) : (
              <button
                type="button"
                disabled={busy}
                onClick={() => use(port.path)}
                aria-label={`${say.stand.use}: ${port.path}`}
              >
                {say.stand.use}
              </button>
            )}
          </li>
        ))}
        {ports?.length === 0 && <li>{say.stand.noneFound}</li>}
      </ul>
      <p class="row">
        <button type="button" class="quiet" onClick={look}>
          {say.stand.look}
        </button>
        <button type="button" class="quiet" disabled={busy} onClick={() => use(null)}>
          {say.stand.find}
        </button>
      </p>
      <form
        class="path"
        onSubmit={(event) => {
          event.preventDefault();
          use(path);
        }}
      >
        <label for="path">{say.stand.typePath}</label>
        <div class="entry">
          <input
            id="path"
            value={path}
            autocomplete="off"
            spellcheck={false}
            aria-invalid={problem !== null}
            aria-describedby="path-help path-problem"
            onInput={(event) => {
              setPath(event.currentTarget.value);
              setProblem(null);
            }}
          />
          <button type="submit" disabled={busy}>
            {say.stand.connect}
          </button>
        </div>
        <p id="path-help" class="help">
          {say.stand.pathHelp}
        </p>
        <p id="path-problem" class="fault" aria-live="polite">
          {problem}
        </p>
      </form>
    </section>
  );
}

/** The stand: how the link to it is, what it says of itself, and which port it hangs on. */
export function StandPage() {
  const { link, demo } = live.value;
  if (link === null) return null;
  return (
    <div class="two">
      <section class="panel" aria-labelledby="stand-title">
        <h2 id="stand-title">{say.stand.title}</h2>
        <p class="condition">{say.conditions[link.condition]}</p>
        <p>
          <Told>{link.sentence}</Told>
        </p>
        <dl class="facts">
          <div>
            <dt>{say.stand.port}</dt>
            <dd>{link.path ?? say.stand.noPort}</dd>
          </div>
        </dl>
        <BoardFacts />
        {demo && <p class="note">{say.page.demoNote}</p>}
      </section>
      <PortChoice />
      <ScalePlace />
      <StandCheck />
    </div>
  );
}
