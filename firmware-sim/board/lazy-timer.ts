/**
 * Timers that wake only for an overflow or a compare match. The stock timer reschedules itself at every prescaler tick: two
 * million events a second at clk/8. Reads of TCNT are exact either way, since they bring the count up to date.
 *
 * Also mended here: clearing one flag of TIFR by writing a one to it leaves the others as they are.
 */
import type { AVRTimer, AVRTimerConfig } from 'avr8js';
import type { BoardCpu } from './cpu.ts';

type Interrupt = Parameters<BoardCpu['setInterruptFlag']>[0];

/** What the wrapper needs of the timer's inside (avr8js 0.21.1). */
interface TimerState {
  readonly OVF: Interrupt;
  readonly OCFA: Interrupt;
  readonly OCFB: Interrupt;
  readonly tcnt: number;
  readonly ocrA: number;
  readonly ocrB: number;
  readonly divider: number;
  readonly lastCycle: number;
  readonly timerMode: number;
}

const phaseCorrectModes = [1, 4];

export function makeTimerLazy(cpu: BoardCpu, timer: AVRTimer, config: AVRTimerConfig): void {
  const state = timer as unknown as TimerState;
  cpu.makeLazy(timer.count, () => {
    const ticks = phaseCorrectModes.includes(state.timerMode) ? 1 : ticksToEvent(state, timer.TOP);
    return state.lastCycle + ticks * state.divider - cpu.cycles;
  });
  cpu.writeHooks[config.TIFR] = (value, _old, _address, mask) => {
    for (const interrupt of [state.OVF, state.OCFA, state.OCFB])
      cpu.clearInterruptByFlag(interrupt, value & mask);
    return true;
  };
  // A new compare value or mode may be due before the event planned with the old one.
  for (const register of [config.OCRA, config.OCRB, config.ICR, config.TCCRA]) {
    const write = cpu.writeHooks[register];
    if (register === 0 || write === undefined) continue;
    cpu.writeHooks[register] = (...args) => {
      timer.count(false);
      const done = write(...args);
      cpu.updateClockEvent(timer.count, state.divider);
      return done;
    };
  }
}

/** Ticks until the count wraps or reaches a compare value; the least of them is worth waking for. */
function ticksToEvent({ tcnt, ocrA, ocrB }: TimerState, top: number): number {
  let ticks = top + 1 - tcnt;
  if (ocrA > tcnt) ticks = Math.min(ticks, ocrA - tcnt);
  if (ocrB > tcnt) ticks = Math.min(ticks, ocrB - tcnt);
  return Math.max(1, ticks);
}
