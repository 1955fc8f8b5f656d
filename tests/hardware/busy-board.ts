import { setUp } from '../board/setup.ts';

/** Bytes of the stack that a board has never used after six cells, every command, a save, 1 500 pulses a second and a motor run, as it tells itself. */
export function stackUnusedWhenBusy(): number {
  const { stand, talk, world } = setUp(6);
  for (const command of ['get', 'id', 'help', 'lamp', 'set name abcdefghijklmnop', 'set slope6 -2000000000'])
    talk.ask(command);
  const tag = talk.send('save');
  stand.advance(1.5);
  if (talk.answerTo(tag) !== 'ok') throw new Error('The board did not save its settings');
  world.planPulses(stand.seconds + 0.3, 1500, 2000);
  talk.beat();
  talk.turn(100);
  for (let n = 0; n < 20; n++) {
    talk.send(['get', 'id', 'health', 'help'][n % 4]!);
    stand.advance(0.1);
  }
  return talk.health().stack!;
}
