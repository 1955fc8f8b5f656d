import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { say } from '../../state/say.ts';

interface HelperProps {
  title: string;
  /** What is typed into it so far comes to; null while it comes to nothing. */
  gives: string | null;
  /** More to say of what it gives. */
  note?: string;
  /** Puts it into the form. */
  use: () => void;
  id: string;
  children: ComponentChildren;
}

/** A helper beside the form, folded: fields of its own, what they come to, and the button that takes it over. */
export function Helper({ id, title, gives, note = '', use, children }: HelperProps) {
  const [used, tell] = useState(false);
  useEffect(() => tell(false), [gives]);
  return (
    <details class="helper" id={id}>
      <summary>{title}</summary>
      <div class="helper-body" data-beside>
        {children}
        <p class="helper-gives" aria-live="polite">
          {gives !== null && <b>{gives}</b>} {note}
        </p>
        <p class="row">
          <button
            type="button"
            data-enter
            disabled={gives === null}
            onClick={() => {
              use();
              tell(true);
            }}
          >
            {say.setup.use}
          </button>
          <span role="status">{used ? say.setup.used : ''}</span>
        </p>
      </div>
    </details>
  );
}

const patienceMillis = 400;

/** True once something has been under way for so long that a person would wonder. */
export function useSlow(busy: boolean): boolean {
  const [slow, setSlow] = useState(false);
  useEffect(() => {
    if (!busy) {
      setSlow(false);
      return undefined;
    }
    const timer = setTimeout(() => setSlow(true), patienceMillis);
    return () => clearTimeout(timer);
  }, [busy]);
  return slow;
}

/** Says that something is under way, once it takes long enough to wonder. */
export function Waiting({ busy }: { busy: boolean }) {
  const slow = useSlow(busy);
  return (
    <p class="waiting" role="status">
      {slow && (
        <>
          <progress aria-label={say.setup.wait} /> {say.setup.wait}
        </>
      )}
    </p>
  );
}
