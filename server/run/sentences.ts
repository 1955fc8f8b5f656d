import { hasFlag } from './flags.ts';
import { gapSentence } from './gap-figures.ts';
import type { RunState } from './state.ts';
import type { InterruptionWhy, RunFigures } from './types.ts';

/** What is going on or went wrong, for someone standing at the drill. */
export function sentenceFor(state: RunState, shown: RunFigures): string {
  if (state.phase === 'finished') return `${endSentence(state, shown)}${gapSentence(shown.gaps)}`;
  if (state.away?.cause === 'service') return returning(state);
  const sentence = liveSentence(state, shown);
  return state.linkDown ? `The stand does not answer: check its cable and power. ${sentence}` : sentence;
}

/** After this program was started again in mid-run, until the stand is heard. */
function returning({ plan }: RunState): string {
  const keepClear = plan?.mode === 'motor' ? 'Keep clear of the wheel. ' : '';
  return `${keepClear}Catchbench was started again in mid-run and looks for the stand, to go on with this run. The stand counts and weighs by itself meanwhile.`;
}

const amount = (value: number, digits: number) => value.toFixed(digits);

/** '11.4 turns and 39.2 g were measured', or that nothing was. */
function measured(shown: RunFigures): string {
  if (shown.turnsDone === 0) {
    return 'The wheel had not turned; nothing was measured.';
  }
  const turned = `${amount(shown.turnsDone, 1)} turns`;
  return shown.grams === null
    ? `${turned} were counted; the catch was not weighed.`
    : `${turned} and ${amount(shown.grams, 1)} g were measured.`;
}

function liveSentence(state: RunState, shown: RunFigures): string {
  switch (state.phase) {
    case 'taring':
      return taringSentence(state);
    case 'ready':
      return readySentence(state);
    case 'turning':
      return turningSentence(state, shown);
    case 'settling':
      return settlingSentence(state, shown);
    default:
      return 'No run yet. Set the plan, hang an empty bag, and get ready.';
  }
}

function taringSentence(state: RunState): string {
  if (hasFlag(state, 'stopOpen')) {
    return stopIsOpen;
  }
  if (state.now !== null && state.now.grams === null) {
    return 'A load cell gives no good value: check its plug, and that the bag does not pull it beyond its range.';
  }
  if (state.now !== null && state.window.batches.length === 0 && state.window.open === null) {
    return 'The wheel has moved: taring begins once it stands still.';
  }
  return 'Taring: do not touch the bag or the wheel.';
}

const stopIsOpen = 'The stop button is pressed, or its wire is broken: release it before you start.';

function readySentence(state: RunState): string {
  if (hasFlag(state, 'stopOpen')) {
    return stopIsOpen;
  }
  if (state.startAskedMicros !== null) {
    return 'Starting.';
  }
  if (state.note === 'not-started') {
    return 'The board did not start the wheel. Look at the motor’s supply and the cable, then press Start again.';
  }
  const noisy = state.restless
    ? ' The scale would not come to rest, so the weights are less certain: look for wind or a swinging bag.'
    : '';
  return state.plan?.mode === 'hand'
    ? `Ready. Press Start, then turn the wheel by hand.${noisy}`
    : `Ready. See that nobody is near the wheel, then press Start.${noisy}`;
}

function turningSentence(state: RunState, shown: RunFigures): string {
  if (state.stopAskedMicros !== null) {
    return 'Stop was pressed: the wheel is being stopped.';
  }
  if (state.plan?.mode === 'hand') {
    return shown.turnsDone < 0
      ? 'The wheel goes backwards: turn it forwards.'
      : 'Turn the wheel evenly until the lamp stays lit.';
  }
  return 'The wheel is turning. Keep clear of it.';
}

function settlingSentence(state: RunState, shown: RunFigures): string {
  if ((shown.turnsPerMinute ?? 0) !== 0) {
    return 'The count is over: let the wheel come to a stand.';
  }
  return state.now?.grams === null
    ? 'A load cell gives no good value, so the catch cannot be weighed.'
    : 'The wheel stands. Do not touch the bag while the last seed settles.';
}

const resetCauses: Record<string, string> = {
  P: 'its power went',
  E: 'its reset line was pulled',
  B: 'its supply voltage sagged',
  W: 'its watchdog found its program hung',
};

function resetCause(letters: string): string {
  const causes = [...letters].flatMap((letter) => resetCauses[letter] ?? []);
  return causes.length > 0 ? ` (${causes.join(', ')})` : '';
}

const refusals: Record<string, string> = {
  button: 'The stop button is pressed, or its wire is broken. Release it and get ready again.',
  settings: 'The board has lost its settings. Set it up again before a run.',
  state: 'The board is busy with another run. Press Stop, then get ready again.',
  value: 'The board does not take that number of turns. Choose fewer, or check its pulses per turn.',
  key: 'The board waited too long for the start. Get ready again.',
};

function refusalSentence(note: string): string {
  const plain =
    'The board did not do as it was asked. Get ready again; if it goes on, unplug the board and plug it in again.';
  // A plan that cannot be reckoned with brings its own sentence.
  return refusals[note] ?? (note.endsWith('.') ? note : plain);
}

function endSentence(state: RunState, shown: RunFigures): string {
  const figures = measured(shown);
  switch (state.outcome) {
    case 'complete':
      return completeSentence(state, shown);
    case 'stopped':
      return shown.turnsDone === 0
        ? 'Stopped before the wheel turned.'
        : `Stopped before the count. ${figures}${rateNote(state, shown)}`;
    case 'stop-button':
      return `The stop button ended the run. ${figures}${rateNote(state, shown)}`;
    case 'host-silent':
      return `The board heard nothing from this computer for a second and stopped the wheel. ${figures}${rateNote(state, shown)}`;
    case 'reversed':
      return `The wheel ran backwards under the motor, so the board stopped it: check the motor’s wiring and the direction sensor. ${figures}`;
    case 'stalled':
      return `The motor was on and no pulse came, so the board stopped it: look for a blocked wheel, a slipping drive or a loose wheel sensor. ${figures}`;
    case 'expired':
      return 'Ready for a long time and not started. Get ready again when it is time.';
    case 'refused':
      return refusalSentence(state.note);
    case 'link-lost':
      return `The stand has not answered for a while; by motor it stops by itself within a second. ${figures} Check cable and power, then get ready again.`;
    case 'board-reset':
      return `The board was reset${state.start === null ? '' : ' in mid-run'}${resetCause(state.note)}. ${figures} Get ready again to repeat.`;
    case 'aborted':
      return `Thrown away. ${figures}`;
    case 'interrupted':
      return `${interruptions[state.note as InterruptionWhy] ?? 'Catchbench ended in mid-run.'} ${figures} Get ready again to repeat.`;
    default:
      return '';
  }
}

const interruptions: Record<InterruptionWhy, string> = {
  'not-started': 'Catchbench ended before the wheel was started.',
  'too-long':
    'Catchbench ended in mid-run and was away for longer than the stand’s counters can be followed.',
  'newer-run': 'Catchbench ended in mid-run, and another run was made since.',
  rearmed:
    'While Catchbench was not connected, the stand was made ready for something else, so what it has counted since is not this run’s.',
  'cannot-tell':
    'Catchbench ended in mid-run. The firmware of this stand cannot tell whether it has done something else since: flash it with the newest.',
  clock:
    'Catchbench ended in mid-run, and the clocks of stand and computer do not agree on how long it was away.',
  leapt: 'After a time without readings the stand’s counts had leapt further than a wheel can turn.',
  emptied:
    'After a time without readings less hung on the scale than before: the bag was taken off or emptied.',
};

function completeSentence(state: RunState, shown: RunFigures): string {
  const caught =
    shown.grams === null ? 'The catch could not be weighed' : `${amount(shown.grams, 1)} g caught`;
  return `Done: ${amount(shown.turnsDone, 2)} turns, ${caught}.${rateNote(state, shown)}`;
}

/** What is to be said about the rate of an ended run: that there is none, or that it is less certain. */
function rateNote(state: RunState, shown: RunFigures): string {
  if (shown.rate === null) {
    return shown.turnsDone > 0 ? ' Too little seed was weighed to state a rate.' : '';
  }
  if (state.final === null) {
    return ' The catch could not be weighed at rest, so the rate comes from the turning alone.';
  }
  return state.restless
    ? ' The scale would not come to rest, so the rate is less certain: look for wind, a swinging bag or seed still trickling.'
    : '';
}
