import { beforeAll, describe, expect, it } from 'vitest';
import { createDrill } from '../../firmware-sim/drill/drill.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../firmware-sim/emulated.ts';
import { idealBoard } from '../../firmware-sim/ideal-board.ts';
import { decodeLine } from '../../server/link/decode.ts';
import { type BoardCommand, encodeCommand } from '../../server/link/encode.ts';
import type { Answer, BoardLine, Reading } from '../../server/link/readings.ts';
import { expectNear } from './statistics.ts';

const restSeconds = 3;
const settleSeconds = 6;
const pulses = 120;

interface Told {
  readings: Reading[];
  turns: number;
  grams: number;
}

/** Three seconds at rest, five turns by motor, six seconds at rest, on the firmware in emulation. */
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
  wait(restSeconds);
  say({ command: 'arm', mode: 'motor', pulses });
  const armTag = tag;
  stand.advance(0.1);
  const answer = lines.find((line): line is Answer => line.kind === 'answer' && line.tag === armTag);
  say({ command: 'go', key: answer!.word });
  wait(8 + settleSeconds);
  const readings = lines.filter((line): line is Reading => line.kind === 'reading');
  return { readings, turns: drill.truth.turns(), grams: drill.truth.gramsCaught() };
}

/** The same on the ideal board. */
function onIdealBoard(scenario: Scenario, seed: number): Told {
  const drill = createDrill(scenario, seed);
  const board = idealBoard(drill, { pulsesPerTurn: 24, debounceMicros: 2500, direction: 1, warnPulses: 48 });
  const readings: Reading[] = [];
  const wait = (until: number) => {
    do readings.push(board.next());
    while (readings.at(-1)!.boardMicros < until * 1e6);
  };
  wait(restSeconds);
  const { word } = board.arm('motor', pulses);
  wait(restSeconds + 0.1);
  board.go(word);
  wait(restSeconds + 0.1 + 8 + settleSeconds);
  return { readings, turns: drill.truth.turns(), grams: drill.truth.gramsCaught() };
}

/** Without hum, which depends on the microsecond at which a converter wakes. */
function clear(scenario: Scenario): Scenario {
  return {
    ...scenario,
    converter: { ...scenario.converter, humCounts: 0 },
  };
}

describe.each([
  ['one cell', clear(oneRow)],
  ['six cells', clear(sixRows)],
])('the ideal board and the firmware over the same drill, %s', (_, scenario) => {
  let real: Told;
  let ideal: Told;
  beforeAll(() => {
    real = onFirmware(scenario, 11);
    ideal = onIdealBoard(scenario, 11);
  });

  it('read as often', () => {
    expectNear(real.readings.length / ideal.readings.length, 1, 0.02);
  });

  it('count the same pulses and catch the same seed', () => {
    const [a, b] = [real.readings.at(-1)!, ideal.readings.at(-1)!];
    expect(a).toMatchObject({ state: 'done', why: 'preset', backwardPulses: 0, flags: 0 });
    expect(b).toMatchObject({ state: 'done', why: 'preset', backwardPulses: 0, flags: 0 });
    expect(a.forwardPulses).toBe(b.forwardPulses);
    expectNear(real.turns, ideal.turns, 0.005);
    expectNear(real.grams / scenario.cells, ideal.grams / scenario.cells, 0.1);
  });

  it('pass through the same states', () => {
    const states = ({ readings }: Told) =>
      readings.map((r) => r.state).filter((state, i, all) => state !== all[i - 1]);
    expect(states(real)).toEqual(['idle', 'armed', 'turning', 'done']);
    expect(states(ideal)).toEqual(states(real));
  });
});

describe('one cell at rest', () => {
  it('shows the ideal board and the firmware the same values, count for count', () => {
    const scenario = clear(oneRow);
    const [real, ideal] = [onFirmware(scenario, 12), onIdealBoard(scenario, 12)].map(({ readings }) =>
      readings.slice(0, 200).map((r) => r.counts[0]),
    );
    // The firmware wakes its converters a few conversions after power-up.
    const lead = ideal!.findIndex((_, i) => real!.slice(0, 5).every((value, j) => value === ideal![i + j]));
    expect(lead).toBeGreaterThanOrEqual(0);
    expect(real!.slice(0, 180)).toEqual(ideal!.slice(lead, lead + 180));
  });
});
