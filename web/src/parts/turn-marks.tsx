/** Above this the marks would be too thin to count. */
const mostMarks = 50;

/** A row of marks, one a turn (or one for each equal share of many), filled as the wheel turns. */
export function TurnMarks({ done, preset }: { done: number; preset: number }) {
  const marks = Math.max(1, Math.min(mostMarks, Math.ceil(preset)));
  const filled = preset > 0 ? Math.min(marks, (done / preset) * marks) : 0;
  const step = 100 / marks;
  return (
    <svg class="marks" height="28" aria-hidden="true">
      {Array.from({ length: marks }, (_, index) => {
        const share = Math.min(1, Math.max(0, filled - index));
        const x = index * step + step * 0.1;
        return (
          <g key={index}>
            <rect class="mark" x={`${x}%`} y="4" width={`${step * 0.8}%`} height="20" />
            {share > 0 && (
              <rect class="mark-done" x={`${x}%`} y="0" width={`${step * 0.8 * share}%`} height="28" />
            )}
          </g>
        );
      })}
    </svg>
  );
}
