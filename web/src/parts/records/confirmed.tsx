import { useEffect, useRef, useState } from 'preact/hooks';

interface ConfirmedProps {
  /** On the button, and again on the one that does it. */
  act: string;
  /** Told beside it for those who hear the page. */
  about?: string;
  ask: string;
  keep: string;
  disabled?: boolean;
  onAct: () => void;
}

/** A button that asks once more before it acts, in its own place. */
export function Confirmed({ act, about, ask, keep, disabled = false, onAct }: ConfirmedProps) {
  const [asking, setAsking] = useState(false);
  const first = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (asking) first.current?.focus();
  }, [asking]);
  if (!asking) {
    return (
      <button type="button" class="quiet" disabled={disabled} onClick={() => setAsking(true)}>
        {act}
        {about !== undefined && <span class="unseen"> {about}</span>}
      </button>
    );
  }
  return (
    <span class="asked row" role="alert">
      <span>{ask}</span>
      <button type="button" ref={first} onClick={() => setAsking(false)}>
        {keep}
      </button>
      <button
        type="button"
        class="quiet"
        onClick={() => {
          setAsking(false);
          onAct();
        }}
      >
        {act}
      </button>
    </span>
  );
}
