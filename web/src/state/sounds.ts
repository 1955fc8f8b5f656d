import { effect } from '@preact/signals';
import { type Cue, cueBetween, heardTurns } from './cues.ts';
import { sounds } from './preferences.ts';
import { live } from './store.ts';

/** The tones for a wheel turned by hand, made by the browser itself; off unless wanted in the preferences. */

const tones: Record<Cue, { hertz: number; seconds: number }> = {
  turn: { hertz: 660, seconds: 0.18 },
  end: { hertz: 990, seconds: 0.9 },
};
/** No louder than this share of what the device can; it has a volume of its own. */
const loudness = 0.5;
/** A tone that begins or ends at once clicks. */
const rampSeconds = 0.02;

let context: AudioContext | null = null;

export const canSound = (): boolean => typeof AudioContext !== 'undefined';

/** Browsers let a page sound only after someone has touched it. */
function awaken(): void {
  if (!canSound()) return;
  context ??= new AudioContext();
  if (context.state === 'suspended') context.resume().catch(() => {});
}

/** Sounds a cue, `after` so many seconds. */
function sound(cue: Cue, after = 0): void {
  if (context === null) return;
  const { hertz, seconds } = tones[cue];
  const from = context.currentTime + after;
  const volume = context.createGain();
  volume.gain.setValueAtTime(0, from);
  volume.gain.linearRampToValueAtTime(loudness, from + rampSeconds);
  volume.gain.setValueAtTime(loudness, from + seconds - rampSeconds);
  volume.gain.linearRampToValueAtTime(0, from + seconds);
  const tone = context.createOscillator();
  tone.frequency.value = hertz;
  tone.connect(volume).connect(context.destination);
  tone.start(from);
  tone.stop(from + seconds);
  dispatchEvent(new CustomEvent('catchbench:sound', { detail: cue }));
}

/** All of them as they come in a run, a second apart, for the one who chooses. */
export function hearThem(): void {
  awaken();
  for (let turn = 0; turn < heardTurns; turn++) sound('turn', turn);
  sound('end', heardTurns);
}

/** Follows the run from now on. */
export function soundRuns(): void {
  addEventListener('pointerdown', () => sounds.peek() && awaken());
  addEventListener('keydown', () => sounds.peek() && awaken());
  let before = live.peek().run;
  effect(() => {
    const { run } = live.value;
    const known = before;
    before = run;
    if (!sounds.peek() || run === null || known?.id !== run.id || run.plan.mode !== 'hand') return;
    const cue = cueBetween(known.figures, run.figures);
    if (cue !== null) sound(cue);
  });
}
