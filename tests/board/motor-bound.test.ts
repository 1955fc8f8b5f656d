/**
 * The bound on stopping: from the edge that completes the preset to the motor output, at most 200 cycles (12.5 µs), six cells,
 * both directions of the line saturated. Counted in emulated cycles, which are exact; nothing here ran on silicon.
 */
import { describe, expect, it } from 'vitest';
import {
  boardBeforeLastPulse,
  type Latencies,
  randomEdges,
  runToConverterRead,
  sweep,
} from './motor-bound.ts';

const boundCycles = 200;

/** Ten bits at 115 200 baud in, at 117 647 baud out. */
const cyclesPerByte = { in: (10 * 16e6) / 115_200, out: 1360 };

function report(what: string, { edges, worst, best, mean }: Latencies): void {
  console.log(`${what}: ${edges} edges, ${best} to ${worst} cycles, mean ${mean.toFixed(1)}`);
}

describe('from the last pulse’s edge to the motor output', () => {
  it('both directions of the line are saturated meanwhile', () => {
    const board = boardBeforeLastPulse(1);
    const start = board.cpu.cycles;
    const waiting = board.serial.waiting;
    board.serial.read();
    board.run(start + 3_200_000);
    const cycles = board.cpu.cycles - start;
    expect((waiting - board.serial.waiting) / (cycles / cyclesPerByte.in)).toBeGreaterThan(0.99);
    expect(board.serial.read().length / (cycles / cyclesPerByte.out)).toBeGreaterThan(0.9);
  });

  it('10 000 edges at random stay within 200 cycles', () => {
    for (let seed = 1; seed <= 10; seed++) {
      const latencies = randomEdges(boardBeforeLastPulse(seed), seed, 1000, 6000);
      report(`random, seed ${seed}`, latencies);
      expect(latencies.worst).toBeLessThanOrEqual(boundCycles);
    }
  });

  it('an edge at each cycle of twelve converter reads stays within 200 cycles', () => {
    const board = boardBeforeLastPulse(11);
    for (let read = 1; read <= 12; read++) {
      const latencies = sweep(board, runToConverterRead(board) + 300);
      report(`read ${read}`, latencies);
      expect(latencies.worst).toBeLessThanOrEqual(boundCycles);
    }
  });

  it('an edge at each cycle from one converter read to the next stays within 200 cycles', () => {
    const board = boardBeforeLastPulse(12);
    runToConverterRead(board);
    const latencies = sweep(board, 16e6 / 78);
    report('whole period', latencies);
    expect(latencies.worst).toBeLessThanOrEqual(boundCycles);
  });
});
