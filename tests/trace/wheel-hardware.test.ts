import { describe, expect, it } from 'vitest';
import type { Fault } from '../../firmware-sim/drill/faults.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../firmware-sim/emulated.ts';
import type { FindingKind } from '../../server/domain/trace/finding.ts';
import {
  addToWheelTrace,
  endOfWheelTrace,
  noWheelTrace,
  wheelFindings,
} from '../../server/domain/trace/wheel-trace.ts';
import { decodeLine } from '../../server/link/decode.ts';
import { type BoardCommand, encodeCommand } from '../../server/link/encode.ts';
import type { Answer, BoardLine, Reading } from '../../server/link/readings.ts';
import { Hearing, knowledgeOf } from './wheel-runs.ts';

/**
 * The wheel sensor in terms of what is screwed to the wheel, on the project's own firmware in emulation: 24 magnets, 5 turns by
 * motor. Each must be counted right or reported.
 */
const turns = 5;

interface Told {
  /** Turns that the wheel made, truly, and by the count. */
  made: number;
  counted: number;
  kinds: FindingKind[];
}

function onFirmware(scenario: Scenario, seed: number): Told {
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
  let tag = 0;
  const say = (command: BoardCommand) => stand.write(Buffer.from(encodeCommand(++tag, command), 'latin1'));
  const wait = (seconds: number) => {
    for (let i = 0; i < seconds * 4; i++) {
      say({ command: 'beat' });
      stand.advance(0.25);
    }
  };
  wait(1);
  say({ command: 'arm', mode: 'motor', pulses: turns * scenario.stated.pulsesPerTurn });
  const armTag = tag;
  stand.advance(0.1);
  const answer = lines.find((line): line is Answer => line.kind === 'answer' && line.tag === armTag);
  say({ command: 'go', key: answer!.word });
  wait(11);
  return read(scenario, lines, drill.truth.turns());
}

/** What the trace makes of the readings. Beats and answers take sequence numbers too; none is lost on this cable. */
function read(scenario: Scenario, lines: BoardLine[], made: number): Told {
  const readings = lines.filter((line): line is Reading => line.kind === 'reading');
  const hearing = new Hearing(scenario);
  let trace = noWheelTrace(knowledgeOf(scenario));
  for (const reading of readings) trace = addToWheelTrace(trace, hearing.hear(reading));
  const last = readings.at(-1)!;
  const counted = (last.forwardPulses - last.backwardPulses) / scenario.stated.pulsesPerTurn;
  return { made, counted, kinds: wheelFindings(endOfWheelTrace(trace)).map(({ kind }) => kind) };
}

interface Row {
  name: string;
  faults?: Fault[];
  wheel?: Partial<Scenario['wheel']>;
  debounceMicros?: number;
  reported: FindingKind[];
}

const rows: Row[] = [
  { name: 'clean pulses', wheel: { bounceSeconds: 0 }, reported: [] },
  { name: 'bounce up to 2 ms, debounce 2.5 ms', wheel: { bounceSeconds: 0.002 }, reported: [] },
  {
    name: 'bounce up to 2 ms, debounce 0.2 ms, direction sensor',
    wheel: { bounceSeconds: 0.002 },
    debounceMicros: 200,
    reported: ['pulses-doubled'],
  },
  {
    name: 'bounce up to 2 ms, debounce 0.2 ms, no direction sensor',
    wheel: { bounceSeconds: 0.002, directionSensor: false },
    debounceMicros: 200,
    reported: ['pulses-doubled'],
  },
  {
    name: 'one magnet in 24 missing',
    faults: [{ kind: 'magnet-missing', magnet: 7, afterTurns: 0 }],
    reported: ['pulses-missed'],
  },
  {
    name: 'one magnet in 24 cracked, seen twice',
    faults: [{ kind: 'magnet-doubled', magnet: 7, behind: 0.2, afterTurns: 0 }],
    reported: ['pulses-doubled'],
  },
  {
    name: 'one magnet in 24 seen late',
    faults: [{ kind: 'magnet-late', magnet: 7, by: 0.2, afterTurns: 0 }],
    reported: [],
  },
  {
    name: 'the wheel rolls back 0.4 turns',
    faults: [{ kind: 'wheel-rolls-back', turns: 0.4, afterTurns: 1 }],
    reported: ['wheel-reversed'],
  },
];

function scenarioOf({ faults = [], wheel = {}, debounceMicros }: Row): Scenario {
  const stated = { ...oneRow.stated, debounceMicros: debounceMicros ?? oneRow.stated.debounceMicros };
  return { ...oneRow, stated, wheel: { ...oneRow.wheel, ...wheel }, faults };
}

describe('the wheel sensor of the stand, by the real firmware', () => {
  it.each(rows)(
    '$name: counted right or reported, and never the wrong thing',
    { timeout: 240_000 },
    (row) => {
      const { made, counted, kinds } = onFirmware(scenarioOf(row), 1);
      console.info(
        `${row.name}: ${made.toFixed(2)} turns made, ${counted.toFixed(2)} counted; reported: ${kinds.join(', ') || 'nothing'}`,
      );
      const right = Math.abs(made - counted) < 1.2 / oneRow.stated.pulsesPerTurn;
      expect(right || kinds.length > 0).toBe(true);
      expect(kinds).toEqual(row.reported);
    },
  );
});
