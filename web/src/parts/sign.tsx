import type { ComponentChildren } from 'preact';
import type { Tone } from '../state/headline.ts';

const wheel = [0, 60, 120].map((degrees) => (
  <path key={degrees} d="M24 8v32" transform={`rotate(${degrees} 24 24)`} />
));

const drawings: Record<Tone, ComponentChildren> = {
  rest: <circle cx="24" cy="24" r="14" />,
  wait: <path d="M15 9h18M15 39h18M16 9c0 9 16 21 16 30M32 9c0 9-16 21-16 30" />,
  care: <path d="M17 10v28l22-14z" />,
  turn: (
    <g class="wheel">
      <circle cx="24" cy="24" r="17" />
      {wheel}
    </g>
  ),
  right: <path d="M9 25l10 11 20-24" />,
  high: <path d="M8 12h32M24 40V22M15 30l9-9 9 9" />,
  low: <path d="M8 36h32M24 8v18M15 18l9 9 9-9" />,
  open: <path d="M8 24h32M8 16v16M40 16v16M24 8v32" />,
  wrong: <path d="M24 3L45 24 24 45 3 24zM24 14v11M24 33v1" />,
};

/** A sign for each tone, told apart by shape. For the eye only: the words beside it say the same. */
export function Sign({ tone }: { tone: Tone }) {
  return (
    <svg class="sign" viewBox="0 0 48 48" aria-hidden="true">
      {drawings[tone]}
    </svg>
  );
}
