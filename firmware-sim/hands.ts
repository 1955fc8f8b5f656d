import type { PersonWorld } from './person.ts';

/**
 * Does what a typed line says with the person's hands. Returns a sentence for who typed it; `later` is given what takes time, in seconds of the
 * stand's, and what is to be said then.
 */
export function doByHand(
  line: string,
  person: PersonWorld,
  later: (seconds: number, sentence: string) => void,
): string {
  const [word = '', first = '', second = '1'] = line.trim().split(/\s+/);
  const [value, cell] = [Number(first), Number(second)];
  switch (word) {
    case 'turn': {
      if (!Number.isInteger(value) || value === 0 || Math.abs(value) > 100)
        return 'turn takes whole turns: turn 3, or turn -3';
      const seconds = person.turn(value);
      later(seconds, 'turned');
      return `turning for ${seconds.toFixed(1)} s of the stand's time`;
    }
    case 'hang': {
      if (
        first === '' ||
        !(Math.abs(value) <= 100_000) ||
        !Number.isInteger(cell) ||
        cell < 1 ||
        cell > person.cells
      ) {
        return 'hang takes grams, and a cell where there are several: hang 200, or hang 200 2';
      }
      person.hang(cell - 1, value);
      return `${value} g on cell ${cell}`;
    }
    case 'press':
      person.press();
      return 'stop button pressed';
    case 'release':
      person.release();
      return 'stop button released';
    default:
      return 'Hands can: turn 3, turn -3, hang 200, press, release';
  }
}
