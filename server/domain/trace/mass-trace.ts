import { addToBatches, type Batch, type Batching, noBatches } from './batch.ts';
import { stepCell } from './cell-step.ts';
import { type CellTrace, noCell } from './cell-trace.ts';
import type { Finding } from './finding.ts';
import { type History, noHistory } from './history.ts';
import { nameAlarms } from './name-alarms.ts';
import { nameFalls } from './name-falls.ts';
import { nameSlopes, noSlopes, type Slopes, settleSlopes } from './name-slopes.ts';
import type { TraceKnowledge, TraceReading } from './reading.ts';
import { type Recent, withRecent } from './recent.ts';
import type { Touch } from './shake.ts';

/** What the scale tells: readings into batches, batches through each cell, and what the cells show together into findings. */
export interface MassTrace {
  knowledge: TraceKnowledge;
  batching: Batching;
  cells: readonly CellTrace[];
  recent: readonly Recent[];
  history: History;
  slopes: Slopes;
  found: readonly Finding[];
}

/** The trace of the mass before the first reading. */
export function noMassTrace(knowledge: TraceKnowledge): MassTrace {
  return {
    knowledge,
    batching: noBatches,
    cells: Array.from({ length: knowledge.cells }, () => noCell(knowledge)),
    recent: [],
    history: noHistory,
    slopes: noSlopes,
    found: [],
  };
}

/** The trace with one more reading; work is done once a tenth of a second. */
export function addToMassTrace(state: MassTrace, reading: TraceReading): MassTrace {
  const { state: batching, closed } = addToBatches(state.batching, reading, state.knowledge.pulsesPerTurn);
  const { knowledge, cells, recent, history, slopes, found } = state;
  const next = { knowledge, batching, cells, recent, history, slopes, found };
  return closed === null ? next : withBatch(next, closed);
}

function withBatch(state: MassTrace, batch: Batch): MassTrace {
  const touches: (Touch | null)[] = [];
  const cells = state.cells.map((cell, index) => {
    const step = stepCell(cell, batch, index, state.knowledge);
    touches.push(step.touch);
    return step.cell;
  });
  const next = { ...state, cells, recent: withRecent(state.recent, batch) };
  return nameSlopes(nameFalls(nameAlarms(next, state.cells, batch, touches), batch), batch);
}

/** Settles what can only be told from the whole. */
export function endOfMassTrace(state: MassTrace): MassTrace {
  return settleSlopes(state);
}

/** Instants count from the run's first reading. */
export function massFindings(state: MassTrace): readonly Finding[] {
  return state.found;
}
