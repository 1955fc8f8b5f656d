import type { ComponentChildren } from 'preact';
import type { Tone } from '../state/headline.ts';

const wheel = [0, 60, 120].map((degrees) => (
  <path key={degrees} d="M24 8v32" transform={`rotate(${degrees} 24 24)`} />
));

const drawings: Record<Tone, ComponentChildren> = {
  rest: <path d="M12 24h24" />,
  wait: <path d="M15 9h18M15 39h18M16 9c0 9 16 21 16 30M32 9c0 9-16 21-16 30" />,
  care: <path d="M17 10v28l22-14z" />,
  turn: (
    <g class="wheel">
      <circle cx="24" cy="24" r="17" />
      {wheel}
    </g>
  ),
  done: <path d="M9 25l10 11 20-24" />,
  wrong: <path d="M24 8v20M24 36v3" />,
};

/** A sign for each tone, told apart by shape. For the eye only: the words beside it say the same. */
export function Sign({ tone }: { tone: Tone }) {
  return (
    <svg class="sign" viewBox="0 0 48 48" aria-hidden="true">
      {drawings[tone]}
    </svg>
  );
}
