import type { Drill } from './drill/drill.ts';
import { soundLine } from './drill/line.ts';
import type { StandBinding } from './serial.ts';
import type { Stand } from './stand.ts';

/** Lets happen to cable and board what the drill's scenario tells, each once. Returns how to call it off. */
export function followLine(stand: Stand, drill: Drill, binding: StandBinding): () => void {
  const { cableOut, boardReset } = drill.scenario.line ?? soundLine;
  let cable: 'in' | 'out' | 'back' = 'in';
  let wasReset = false;
  let since = 0;
  return stand.onStep(() => {
    const turns = drill.truth.turns();
    if (cable === 'in' && cableOut !== null && turns >= cableOut.afterTurns) {
      cable = 'out';
      since = stand.seconds;
      binding.unplug();
    } else if (cable === 'out' && stand.seconds - since >= cableOut!.forSeconds) {
      cable = 'back';
      binding.plug();
    }
    if (!wasReset && boardReset !== null && turns >= boardReset.afterTurns) {
      wasReset = true;
      stand.reset();
    }
  });
}
