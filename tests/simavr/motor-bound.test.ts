/**
 * The bound on stopping (tests/board/motor-bound.test.ts), by the second emulator: edges at random times complete the preset count
 * while six cells are read and both directions of the line are busy. CATCHBENCH_WHOLE=1 tries ten times as many.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { randomStreams } from '../../firmware-sim/drill/random.ts';
import { eepromFor } from '../../firmware-sim/stand.ts';
import { wireLine } from '../board/talk.ts';
import { needs } from '../needs.ts';
import { Simavr } from './simavr.ts';
import type { Stimulus } from './stimuli.ts';

const boundCycles = 200;
const edges = process.env.CATCHBENCH_WHOLE ? 3000 : 240;

/** From one arming to the next; six cells leave the line room for an answer every 20 ms or so. */
const trialCycles = 1_300_000;
const rubbishFrom = 700_000;
const edgeFrom = 720_000;
const edgeWithin = 380_000;

/** Lines that the board drops: the receiver is busy with them, and nothing is answered. */
const rubbish = Buffer.from(`${'~'.repeat(63)}\n`.repeat(5));

/** Arms for one pulse and starts; the host sends without a gap when the edge comes. */
function trial(start: number, number: number, edge: number): Stimulus[] {
  const say = (text: string): Uint8Array => wireLine(`${number} ${text}`);
  return [
    {
      cycle: start,
      kind: 'say',
      bytes: Buffer.concat([say('arm motor 1'), say(`go ${(1 << 16) | number}`)]),
    },
    { cycle: start + rubbishFrom, kind: 'say', bytes: rubbish },
    { cycle: edge, kind: 'wheel', a: 1, b: 0 },
    { cycle: edge + 20_000, kind: 'wheel', a: 0, b: 0 },
  ];
}

describe.skipIf(!needs('make') || !needs('gcc') || !needs('simavr'))(
  'from edge to motor output in simavr',
  () => {
    let simavr: Simavr;
    beforeAll(() => {
      simavr = new Simavr();
    });
    afterAll(() => simavr.dispose());

    it(`${edges} edges at random stay within 200 cycles`, { timeout: 300_000 }, () => {
      const random = randomStreams(1)('edges');
      const at: number[] = [];
      const list: Stimulus[] = Array.from({ length: 6 }, (_, cell) => ({
        cycle: 0,
        kind: 'cell' as const,
        cell,
        period: 200_000 + 800 * (cell - 2),
        value: 0x555555 * (cell % 2 ? -1 : 1),
      }));
      for (let number = 1; number <= edges; number++) {
        const start = 4_000_000 + number * trialCycles;
        const edge = start + edgeFrom + Math.floor(edgeWithin * random.uniform());
        at.push(edge);
        list.push(...trial(start, number, edge));
      }
      list.push({ cycle: 4_000_000 + (edges + 1) * trialCycles, kind: 'run' });
      const { motor } = simavr.run(list, eepromFor({ cells: 6, debounceMicroseconds: 100 }));
      const falls = motor.filter(({ on }) => !on).map(({ cycle }) => cycle);
      expect(falls).toHaveLength(edges);
      const latencies = falls.map((cycle, trialNumber) => cycle - at[trialNumber]!);
      const worst = Math.max(...latencies);
      console.info(
        `simavr: ${edges} edges, ${Math.min(...latencies)} to ${worst} cycles, mean ${(latencies.reduce((a, b) => a + b) / edges).toFixed(1)}`,
      );
      expect(worst).toBeLessThanOrEqual(boundCycles);
      expect(Math.min(...latencies)).toBeGreaterThan(30);
      // Some of them have met an interrupt or a lock on their way.
      expect(worst).toBeGreaterThan(Math.min(...latencies) + 20);
    });
  },
);
