import { useState } from 'preact/hooks';
import { keep, recall } from '../../state/kept.ts';
import { knock, pair } from '../../state/people.ts';
import { say } from '../../state/say.ts';
import { problemWords } from './problem.ts';

const words = say.access;

interface EntryProps {
  id: string;
  label: string;
  help: string;
  value: string;
  fault: string | null;
  onType: (typed: string) => void;
  autocomplete: string;
}

function Entry({ id, label, help, value, fault, onType, autocomplete }: EntryProps) {
  return (
    <div class="access-entry">
      <label for={id}>{label}</label>
      <input
        id={id}
        value={value}
        autocomplete={autocomplete}
        autocapitalize={id === 'code' ? 'characters' : 'sentences'}
        spellcheck={false}
        maxLength={40}
        aria-invalid={fault !== null}
        aria-describedby={`${id}-help ${id}-fault`}
        onInput={({ currentTarget }) => onType(currentTarget.value)}
      />
      <p id={`${id}-help`} class="help">
        {help}
      </p>
      <p id={`${id}-fault`} class="fault" aria-live="polite">
        {fault}
      </p>
    </div>
  );
}

function AskForCode() {
  const [told, tell] = useState<{ words: string; fault: boolean } | null>(null);
  const ask = async () => {
    const fault = problemWords(await knock());
    tell({ words: fault ?? words.asked, fault: fault !== null });
  };
  return (
    <li>
      <p>{words.step1}</p>
      <button type="button" onClick={() => void ask()}>
        {words.ask}
      </button>
      <p class={told?.fault ? 'fault' : 'help'} aria-live="polite">
        {told?.words}
      </p>
    </li>
  );
}

function TypeCode() {
  const [code, setCode] = useState('');
  const [name, setName] = useState(recall(() => localStorage, 'device') ?? '');
  const [fault, setFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const enter = async () => {
    if (code.trim() === '' || name.trim() === '') return setFault(words.problems['bad-input']);
    setBusy(true);
    keep(() => localStorage, 'device', name.trim());
    setFault(problemWords(await pair(code, name)));
    setBusy(false);
  };
  const atName = fault !== null && code.trim() !== '' && name.trim() === '';
  return (
    <li>
      <p>{words.step2}</p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void enter();
        }}
      >
        <Entry
          id="code"
          label={words.code}
          help={words.codeHelp}
          value={code}
          fault={atName ? null : fault}
          autocomplete="one-time-code"
          onType={(typed) => {
            setCode(typed);
            setFault(null);
          }}
        />
        <Entry
          id="device"
          label={words.name}
          help={words.nameHelp}
          value={name}
          fault={atName ? fault : null}
          autocomplete="off"
          onType={setName}
        />
        <button type="submit" class="go" disabled={busy}>
          {words.enter}
        </button>
      </form>
    </li>
  );
}

/** All that a device sees that is not paired. */
export function PairingPage() {
  return (
    <main id="main" class="access-pair">
      <section class="panel" aria-labelledby="pair-title">
        <h1 id="pair-title" class="page-title">
          {words.pairTitle}
        </h1>
        <p>{words.pairIntro}</p>
        <ol>
          <AskForCode />
          <TypeCode />
        </ol>
        {location.protocol === 'http:' && <p class="note">{words.plain}</p>}
      </section>
    </main>
  );
}
