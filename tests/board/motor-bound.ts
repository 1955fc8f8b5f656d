/**
 * How many cycles pass from the edge that completes the preset to the motor output's fall, on the real firmware. From one
 * moment of a run the board is taken forward with the edge at one cycle, then back, then forward with the edge at the next.
 */
import type { Board } from '../../firmware-sim/board/board.ts';
import { randomStreams } from '../../firmware-sim/drill/random.ts';
import { setUp } from './setup.ts';
import { wireLine } from './talk.ts';

/** An edge that has not dropped the motor after so many cycles never will. */
const giveUpCycles = 20_000;

const pulsesOfRead = 25;

export interface Latencies {
  /** Edges tried. */
  edges: number;
  /** Cycles from the edge to the end of the instruction that drops the motor. */
  worst: number;
  best: number;
  mean: number;
}

/**
 * A board with six cells, turning, one pulse from its preset, with both directions of the line saturated: the host sends
 * commands without a gap, most of which the board answers at length.
 */
export function boardBeforeLastPulse(seed: number): Board {
  const { world, stand, talk } = setUp(6);
  const random = randomStreams(seed)('host');
  talk.beat();
  world.values.forEach((_, cell) => {
    world.values[cell] = Math.floor((random.uniform() * 2 - 1) * 8_388_607);
  });
  talk.turn(1);
  talk.fallSilent();
  const commands = ['get', 'health', 'id', 'beat', 'help', 'stopp', 'set ppt 5', 'arm motor 5'];
  let tag = 1000;
  while (stand.board.serial.room > 64) {
    stand.write(wireLine(`${tag++} ${commands[Math.floor(random.uniform() * commands.length)]}`));
  }
  stand.advance(0.02 * random.uniform() + 0.02);
  if (!stand.board.motor) throw new Error('The motor is not on');
  return stand.board;
}

/** Cycles from an edge at `cycle`, which is not yet past, to the fall of the motor output. */
export function latencyOf(board: Board, cycle: number): number {
  let fell = Number.NaN;
  board.onMotor = (on, at) => {
    if (!on) fell = at;
  };
  board.setWheelAt(cycle, 1, 0);
  const end = cycle + giveUpCycles;
  while (Number.isNaN(fell)) {
    if (board.cpu.cycles > end) throw new Error(`An edge at cycle ${cycle} did not drop the motor`);
    board.run(board.cpu.cycles + 16);
  }
  return fell - cycle;
}

class Tally implements Latencies {
  edges = 0;
  worst = 0;
  best = Infinity;
  #sum = 0;

  add(latency: number): void {
    this.edges++;
    this.#sum += latency;
    this.worst = Math.max(this.worst, latency);
    this.best = Math.min(this.best, latency);
  }

  get mean(): number {
    return this.#sum / this.edges;
  }
}

/** One edge at every cycle of the next `cycles`. */
export function sweep(board: Board, cycles: number): Latencies {
  const tally = new Tally();
  const end = board.cpu.cycles + cycles;
  while (board.cpu.cycles < end) {
    const from = board.cpu.cycles;
    const restore = board.save();
    const latency = latencyOf(board, from + 1);
    restore();
    board.run(from + 1);
    // Edges during one instruction are seen at its end: the later the edge, the shorter the wait for the same fall.
    for (let cycle = from + 1; cycle <= board.cpu.cycles; cycle++) tally.add(latency - (cycle - from - 1));
  }
  return tally;
}

/** Edges at cycles drawn at random, 1 to `spacing` apart. */
export function randomEdges(board: Board, seed: number, edges: number, spacing: number): Latencies {
  const random = randomStreams(seed)('edges');
  const tally = new Tally();
  for (let edge = 0; edge < edges; edge++) {
    board.run(board.cpu.cycles + 1 + Math.floor(random.uniform() * spacing));
    const restore = board.save();
    // Up to one instruction's length into the future: the instruction under way when the edge comes is drawn too.
    tally.add(latencyOf(board, board.cpu.cycles + 1));
    restore();
  }
  return tally;
}

/** Runs the board to shortly before its next read of the converters; returns the cycles that the read takes from there. */
export function runToConverterRead(board: Board): number {
  const { converters, cpu } = board;
  const idle = converters.clockPulses;
  let restore = board.save();
  while (converters.clockPulses === idle) {
    restore = board.save();
    board.run(cpu.cycles + 200);
  }
  restore();
  const start = cpu.cycles;
  const bring = board.save();
  while (converters.clockPulses < idle + pulsesOfRead) board.run(cpu.cycles + 10);
  const cycles = cpu.cycles - start;
  bring();
  return cycles;
}
