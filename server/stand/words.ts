import type { Ask, Remark, StepName, StepOutcome } from './types.ts';

/** The check's sentences in English, for the terminal and the report; the page has its own, by the same codes. */

export const stepTitles: Record<StepName, string> = {
  identity: 'The board',
  settings: 'Settings',
  flow: 'Readings and the board’s health',
  'wheel-forward': 'Wheel sensor, forward',
  'wheel-back': 'Wheel sensor, back',
  cells: 'Load cells with nothing on',
  masses: 'Check masses',
  button: 'Stop button',
  lamp: 'Lamp or horn',
  motor: 'Motor',
};

export const outcomeWords: Record<StepOutcome, string> = {
  passed: 'ok',
  failed: 'FAILED',
  skipped: 'left out',
};

type Values = Remark['values'];
type Sentence = (values: Values) => string;

const asks: Record<string, Sentence> = {
  identity: ({ name, firmware }) =>
    `The stand says it is ${name}, with firmware ${firmware}. Is that the one in front of you?`,
  settings: ({ refused }) =>
    `${refused === '' ? '' : `Not accepted: ${refused}. `}Look through the settings: name, pulses a turn, debounce, cells, direction, warning. Change what is wrong, or keep them.`,
  'settings-saving': () => 'The settings go into the board.',
  flow: ({ seconds }) => `Leave the stand alone: its readings are watched for ${seconds} s.`,
  'flow-watching': ({ seconds }) => `Watching for ${seconds} s.`,
  'wheel-forward': ({ turns }) =>
    `Motor unplugged, wheel clear. Mark the wheel and the frame. You will turn it ${turns} turns FORWARD by hand, from mark to mark, without stopping.`,
  'turn-forward': ({ turns }) => `Turn ${turns} turns forward now; then go on.`,
  'wheel-back': ({ turns }) => `Now ${turns} turns BACK by hand, from mark to mark.`,
  'wheel-at-rest': () => 'Leave the wheel at rest for a moment.',
  'turn-back': ({ turns }) => `Turn ${turns} turns back now; then go on.`,
  cells: ({ seconds }) =>
    `Take off what hangs on the cells and leave them alone: they are watched for ${seconds} s.`,
  'cells-watching': ({ seconds }) => `Watching for ${seconds} s: touch nothing.`,
  masses: ({ cell, cells, weighed }) =>
    `Cell ${cell} of ${cells}, ${weighed} weighed. Begin empty, then go up through the masses and down again; end empty. Nobody under the load.`,
  weighing: () => 'Weighing: touch nothing.',
  'lines-keep': () => 'Shall the lines found go into the board? Readings in grams follow them from then on.',
  'lines-writing': () => 'The lines go into the board.',
  button: () => 'The stop button is tried: nothing may turn meanwhile.',
  press: () => 'Press the stop button and leave it in.',
  release: () => 'Release the stop button.',
  lamp: () => 'Lamp or horn goes on for a second: look and listen.',
  'lamp-seen': () => 'Was the lamp on, did the horn sound?',
  'lamp-told': () => 'What the board says of it is waited for.',
  'motor-clear': ({ turns }) =>
    `Plug the motor in only now. The wheel will turn ${turns} turns by motor. Wheel and shafts clear, guards on, nobody near, a finger on the stop button? Only then answer yes.`,
  'motor-turning': () => 'The motor turns. Stop at any time.',
  judged: () => 'This step is done.',
  finished: () => 'All steps are behind.',
  broken: () => 'The stand went away. Connect it and begin again.',
};

const remarks: Record<string, Sentence> = {
  'firmware-older': ({ firmware, shipped }) =>
    `The board has firmware ${firmware}, older than ${shipped}, which comes with this program. It works, but flash it: hardware-notes/README.md says how.`,
  'firmware-newer': ({ firmware, shipped }) =>
    `The board has firmware ${firmware}, newer than this program knows (${shipped}). It works as far as both understand each other; update this program.`,
  'settings-blank': () => 'The board has no settings yet.',
  'settings-corrupt': () => 'The board’s settings are damaged: enter and save them again.',
  'reset-watchdog': () =>
    'The board’s program hung and was restarted. Write down what led to it and report it.',
  'reset-brown-out': () =>
    'The board’s supply sagged at its last reset: supply of its own for coils, a diode across each.',
  'setting-refused': ({ key }) => `The board did not take the setting ${key}.`,
  'settings-saved': () => 'The settings were saved in the board.',
  'debounce-long': ({ debounce, most }) =>
    `The debounce of ${debounce} µs is half the time between two pulses or more at 60 turns a minute: keep it below ${most} µs.`,
  'rate-off': ({ rate, least, most }) =>
    `${rate} readings a second instead of ${least} to ${most}: check the converters’ rate pins (high) and the line.`,
  'values-missing': ({ missing }) =>
    `${missing} values did not come: check the data wires and the converters’ supply.`,
  'health-not-heard': () => 'The board did not tell its health twice.',
  'converter-late': ({ late }) =>
    `A converter was late ${late} times: rate pin, or one slower than the others.`,
  'converter-desync': ({ desync }) =>
    `A converter fell out of step ${desync} times: clock wire too long or beside the motor’s.`,
  'received-lost': ({ lost }) => `The board lost ${lost} bytes from the computer.`,
  'readings-lost': ({ lost }) => `${lost} readings were dropped for want of room on the line.`,
  'loop-slow': ({ worst }) => `The board’s program took ${worst} µs for one pass.`,
  'stack-short': ({ stack }) => `Only ${stack} bytes of the board’s stack were never used.`,
  'no-pulses': () => 'No pulse came: check the sensor’s plug, supply and gap.',
  'direction-wrong': ({ way }) =>
    `Turned ${way}, the other count grew: exchange the two sensor leads or set direction 2 instead of 1.`,
  'direction-missing': () => 'Turned back without a direction sensor: set direction 1 where one is fitted.',
  'both-ways': ({ wrong }) =>
    `${wrong} pulses counted the other way: sensor B is not a quarter of a pulse beside A, or the wheel swung back.`,
  'pulses-differ': ({ counted, expected, perTurn }) =>
    `${counted} pulses instead of ${expected}: ${perTurn} a turn. Turned exactly three turns? Then a magnet is missing or seen twice, or the setting is wrong.`,
  'magnet-missing': ({ place }) =>
    `After pulse ${place} of the turn one is missing each time: magnet lost or too far from the sensor.`,
  'magnet-doubled': ({ place }) =>
    `Pulse ${place} of the turn comes too soon each time: a magnet seen twice.`,
  'pulses-doubled': () =>
    'Pulses come twice all around the wheel: the debounce is shorter than the bounce, or the bracket is loose.',
  'pulses-missed': () =>
    'Pulses are missing all around the wheel: the gap is too wide, or the debounce too long.',
  'magnet-off-place': ({ percent }) => `A magnet stands ${percent} % of the spacing off its place.`,
  'bounce-much': ({ bounced }) =>
    `${bounced} edges were rejected as bounce: more than one a pulse. A firmer bracket, a smaller gap, or a sensor without contacts.`,
  'zero-far': ({ cell, counts }) =>
    `Cell ${cell} stands at ${counts} counts with nothing on: no room for a load. Bent cell or wrong wiring.`,
  'no-values': ({ cell, seconds }) =>
    `Cell ${cell} gave no good value for ${seconds} s: check its wires and its converter.`,
  'mass-off': ({ cell, load, off, allowed }) =>
    `Cell ${cell} shows ${off} g off at ${load} g; ${allowed} g is allowed.`,
  'no-line': ({ cell, sentence }) => `Cell ${cell}: ${sentence}`,
  'slope-differs': ({ cell, percent }) =>
    `Cell ${cell}: the board’s slope is ${percent} % beside the one found.`,
  'line-written': () => 'The lines found were saved in the board.',
  'line-not-written': () => 'The lines could not be saved in the board; those before stay in use.',
  'line-kept-here': () => 'The board keeps its lines as they were.',
  'button-not-seen': () => 'The stop button was not seen: its second contact, the wire to PD3.',
  'button-stays': () => 'The stop contact stayed open: PD3 to ground with a wire; does it close then?',
  'arm-not-refused': ({ word }) =>
    `With the stop button in, the board did not refuse to be armed (${word === '' ? 'it armed' : word}).`,
  'arm-not-tried': () =>
    'Without settings the board cannot be armed, so its refusal with the button in was not tried.',
  'lamp-unknown': () =>
    'This firmware cannot try the lamp by itself: watch it in the first run turned by hand.',
  'lamp-refused': ({ word }) => `The board did not light the lamp: ${word === '' ? 'no answer' : word}.`,
  'lamp-dark': () => 'Nothing to be seen or heard: bulb, its transistor, its supply, the wire to PB1.',
  'lamp-flag-missing': () => 'The board did not tell that the lamp was on.',
  'motor-refused': ({ word }) => `The motor was not started: ${word === '' ? 'no answer' : word}.`,
  'motor-halted': ({ why }) => `The board stopped the motor before the count: ${why}.`,
  'motor-stopped': () => 'Stopped by hand.',
  'motor-no-end': () => 'The wheel did not come to its count within a minute: stopped.',
  'motor-goes-on': () =>
    'THE WHEEL GOES ON TURNING after the count, as far again as it was driven. Stop button, unplug; look for a relay or contactor that sticks, then for a brake.',
  'motor-flag-missing': () => 'The board did not tell that the motor was on.',
  'motor-stays-on': () =>
    'THE MOTOR OUTPUT STAYS ON after the count. Stop button, unplug; replace relay and contactor.',
  'coast-long': ({ turns }) =>
    `The wheel went on for ${turns} turns after the count: half a turn is the most. A brake, or a slower wheel.`,
  'stand-lost': () => 'The stand went away during this step.',
};

const own = (list: Record<string, Sentence>, code: string): Sentence | null =>
  Object.hasOwn(list, code) ? list[code]! : null;

/** What is asked of the person. */
export function askSentence({ code, values }: Pick<Ask, 'code' | 'values'>): string {
  return own(asks, code)?.(values) ?? code;
}

/** What was seen. Remarks of the scale bring their sentence with them. */
export function remarkSentence({ code, values }: Pick<Remark, 'code' | 'values'>): string {
  const sentence = own(remarks, code)?.(values);
  if (sentence !== undefined) return sentence;
  return 'sentence' in values ? `Cell ${values.cell}: ${values.sentence}` : code;
}

/** Every code that has a sentence. */
export const saidCodes = { asks: Object.keys(asks), remarks: Object.keys(remarks) };
