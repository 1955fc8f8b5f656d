import type { RunView } from '../../../server/http/messages.ts';
import type { Point } from '../state/trace.ts';
import { ChartPanel } from './chart-panel.tsx';
import { CatchFigure, catchBand, RateFigure, SpeedFigure, TurnsFigure } from './figures.tsx';

interface BoardProps {
  run: Pick<RunView, 'figures' | 'plan'>;
  trace: readonly Point[];
}

/** The figures and the chart of a run, at any moment of it. */
export function Board({ run, trace }: BoardProps) {
  const { figures, plan } = run;
  return (
    <div class="board">
      <div class="side side-main">
        <CatchFigure grams={figures.grams} band={catchBand(figures)} forecast={figures.forecast} />
        <RateFigure figures={figures} plan={plan} />
      </div>
      <div class="side side-more">
        <ChartPanel figures={figures} trace={trace} />
        <div class="pair">
          <TurnsFigure figures={figures} />
          {figures.phase !== 'finished' && <SpeedFigure figures={figures} plan={plan} />}
        </div>
      </div>
    </div>
  );
}
