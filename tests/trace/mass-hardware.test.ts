import { describe, expect, it } from 'vitest';
import type { Fault } from '../../firmware-sim/drill/faults.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../firmware-sim/emulated.ts';
import type { FindingKind } from '../../server/domain/trace/finding.ts';
import { addToTrace, endOfTrace, noTrace, traceFindings } from '../../server/domain/trace/trace.ts';
import { decodeLine } from '../../server/link/decode.ts';
import { type BoardCommand, encodeCommand } from '../../server/link/encode.ts';
import type { Answer, BoardLine, Reading } from '../../server/link/readings.ts';
import { whole } from './bundled.ts';
import { knowledgeOf, Relative } from './traced.ts';

/** The same findings from readings of the project's own firmware in emulation: 10 turns, 4 s at rest before and 7 s after. */
const turns = 10;

/** Every reading that the firmware sends in a run, and whether it was before the board was told to go. */
function onFirmware(scenario: Scenario, seed: number): { readings: Reading[]; before: number } {
  const { stand, drill } = createEmulatedStand(scenario, seed);
  const lines: BoardLine[] = [];
  let text = '';
  stand.onBytes((bytes) => {
    text += Buffer.from(bytes).toString('latin1');
    for (let end = text.indexOf('\r\n'); end >= 0; end = text.indexOf('\r\n')) {
      const decoded = decodeLine(text.slice(0, end));
      if (decoded.ok) lines.push(decoded.line);
      text = text.slice(end + 2);
    }
  });
  const readings = () => lines.filter((line): line is Reading => line.kind === 'reading');
  let tag = 0;
  const say = (command: BoardCommand) => stand.write(Buffer.from(encodeCommand(++tag, command), 'latin1'));
  const wait = (seconds: number, over = () => false) => {
    for (let i = 0; i < seconds * 4 && !over(); i++) {
      say({ command: 'beat' });
      stand.advance(0.25);
    }
  };
  wait(4);
  const mode = scenario.drive.hand === null ? 'motor' : 'hand';
  say({ command: 'arm', mode, pulses: turns * scenario.stated.pulsesPerTurn });
  const armTag = tag;
  stand.advance(0.1);
  const answer = lines.find((line): line is Answer => line.kind === 'answer' && line.tag === armTag);
  const before = readings().length;
  say({ command: 'go', key: answer!.word });
  drill.turnByHand();
  stand.advance(0.1);
  wait(60, () => readings().at(-1)!.state !== 'turning');
  wait(7);
  return { readings: readings(), before };
}

function named(scenario: Scenario, seed: number): [FindingKind, number | null][] {
  const { readings, before } = onFirmware(scenario, seed);
  const relative = new Relative(scenario.stated.gramsPerCount);
  let state = noTrace(knowledgeOf(scenario));
  readings.forEach((reading, i) => {
    const phase = i < before ? 'before' : reading.state === 'turning' ? 'turning' : 'after';
    state = addToTrace(state, relative.reading(reading, phase));
  });
  const findings = traceFindings(endOfTrace(state)).filter(({ kind }) => !kind.startsWith('pulse-per'));
  return findings.map(({ kind, cell }) => [kind, cell]);
}

interface Row {
  name: string;
  scenario?: Scenario;
  fault?: Fault;
  /** Runs also where only a sample of the campaigns does. */
  sample?: true;
  told: [FindingKind, number | null][];
}

const rows: Row[] = [
  { name: 'one row, nothing wrong', told: [] },
  { name: 'by hand, nothing wrong', scenario: byHand, sample: true, told: [] },
  { name: 'six rows, nothing wrong', scenario: sixRows, told: [] },
  {
    name: 'seed bridges at turn 5',
    sample: true,
    fault: { kind: 'seed-bridges', afterTurns: 5 },
    told: [['flow-stopped', null]],
  },
  {
    name: 'the fourth of six tubes blocks at turn 4',
    scenario: sixRows,
    fault: { kind: 'tube-blocked', cell: 3, share: 1, afterTurns: 4 },
    told: [['tube-blocked', 3]],
  },
  {
    name: 'the bag is knocked at turn 4',
    sample: true,
    fault: { kind: 'bag-knocked', cell: 0, grams: 30, afterTurns: 4 },
    told: [['bag-knocked', 0]],
  },
  {
    name: '15 g laid on the bag at turn 4',
    fault: { kind: 'bag-leaned-on', cell: 0, grams: 15, afterTurns: 4 },
    told: [['bag-leaned-on', 0]],
  },
  {
    name: 'the converter repeats itself from turn 4',
    fault: { kind: 'cell-stuck', cell: 0, afterTurns: 4 },
    told: [['cell-dead', 0]],
  },
  {
    name: 'a grinder shakes the bench',
    fault: { kind: 'bench-shakes', grams: 2.5, afterTurns: 3 },
    told: [['scale-noisy', 0]],
  },
  {
    name: 'seed leaks, 0.3 g a second',
    sample: true,
    fault: { kind: 'leak', cell: 0, gramsPerSecond: 0.3, afterTurns: 0 },
    told: [
      ['leak', 0],
      ['leak', 0],
    ],
  },
];

describe('readings of the real firmware', () => {
  const seeds = whole ? [1, 2, 3, 4, 5] : [1];
  it.each(rows.filter(({ sample }) => whole || sample))(
    '$name',
    { timeout: 300_000 },
    ({ name, scenario = oneRow, fault, told }) => {
      for (const seed of seeds) {
        const found = named({ ...scenario, faults: fault ? [fault] : [] }, seed);
        console.info(`${name}, seed ${seed}: ${found.map(([kind]) => kind).join(', ') || 'nothing'}`);
        expect(found).toEqual(told);
      }
    },
  );
});
