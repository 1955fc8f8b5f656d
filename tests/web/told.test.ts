import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { remarkSentence, saidCodes } from '../../server/stand/words.ts';
import { format, speak, type Text } from '../../web/src/state/say.ts';
import { tellIn, toldWords } from '../../web/src/state/told.ts';
import { told as german } from '../../web/texts/de/told.ts';
import { en } from '../../web/texts/en/index.ts';
import { told as english } from '../../web/texts/en/told.ts';
import { told as french } from '../../web/texts/fr/told.ts';
import { phrasebook } from '../../web/texts/phrasebook.ts';
import { speaking } from './told-files.ts';

/** Sentences that a file puts together by functions of its own; each is among `putTogether` as it comes out. */
const byFunctions = new Set([
  '7.5Catchbench was started again in mid-run and looks for the stand, to go on with this run.',
  '7.5 were counted; the catch was not weighed.',
  '7.5 and 7.5 g were measured.',
  'The board was reset7.5.',
  'The board was reset in mid-run7.5.',
  '7.5 7.5 Get ready again to repeat.',
  'Done: 7.5 turns, 7.5.',
  'Readings are missing 7.5 (7.5)7.5.',
  'So far it looks like 7.5.',
  'The wheel sensor missed about 7.5 of 7.5 pulses, 7.5.',
  'The wheel sensor gave about 7.5 false pulses among 7.57.5.',
  '7.5 % of a catch of 5 turns, 7.5 % of one of 7.5.',
  '7.5.',
  '7.5.7.5 7.5.',
  'Done: 7.5, 7.5.',
  'Probably 7.5, 7.5 turns in all.',
  '7.57.5, and right with 7.5 probability.',
  'This run will end at 7.5: the drill needs about 7.5 times its present rate.',
  'This run will end at 7.5: more turns would tell little more.',
  'The board’s time leapt by 7.5 s between two readings7.5.',
  'The board’s time stood still or ran back7.5.',
  'The times of wheel pulses do not fit those of the readings7.5.',
  '7.5: is it the right mass, and does nothing touch?',
  'Weigh it again, or leave it out.',
  'No run ends as 7.5 is said to have.',
  'The catch weighed by hand in 7.5 is missing or makes no sense.',
  'The figures of 7.5 are not what figures are.',
  'The readings of 7.5 do not give the figures that stand beside them.',
  'A run is under way.',
  'Let it end, then 7.5.',
  'Rows compared.',
  '7.5; that may be luck.',
]);

const putTogether = [
  'Keep clear of the wheel. Catchbench was started again in mid-run and looks for the stand, to go on with this run.',
  'The stop button ended the run. 9.3 turns were counted; the catch was not weighed.',
  'Stopped before the count. 11.4 turns and 39.2 g were measured.',
  'The board was reset (its power went). The wheel had not turned; nothing was measured. Get ready again to repeat.',
  'The board was reset in mid-run (its supply voltage sagged). 11.4 turns and 39.2 g were measured.',
  'Catchbench ended in mid-run, and another run was made since. 11.4 turns and 39.2 g were measured. Get ready again to repeat.',
  'Done: 25.02 turns, 84.2 g caught.',
  'Done: 25.02 turns, The catch could not be weighed.',
  'Done: 25.02 turns, 84.2 g caught. Readings are missing from 3.1 to 7.9 s (the stand was not connected). Turns and grams are whole: the stand counts and weighs on by itself.',
  'Readings are missing from 3.1 s on (Catchbench was not running).',
  'Readings are missing from 3.1 to 7.9 s (nothing came over the cable), and 2 more times.',
  'So far it looks like 84.2 ± 1.3 g where 85.0 g are wanted.',
  'This run will end at 61 ± 2 g where 85 g are wanted: the drill needs about 1.4 times its present rate. You may stop now and change the setting.',
  'The wheel sensor missed about 12 (± 3) of 1500 pulses, always at the same 2 places of the turn. Look for a magnet that is missing, loose or the wrong way round. In sum the turns are still counted right. Then repeat the run.',
  'The wheel sensor gave about 12 (± 3) false pulses among 1500, mostly within 4 ms of a true one. Set the debounce time of the board longer, mend a loose plug or sensor, and keep its cable away from the motor’s. So the wheel made about 0.20 turns fewer than were counted, and the rate shown is about 0.8 % too low.',
  'A run that begins and ends at unlucky places of the turn may so be off by up to 0.9 g: 5.2 % of a catch of 5 turns, 1.1 % of one of 25.',
  'Run 3 lies on the target at 30. By that the target lies beyond the upper end of the scale.',
  'Run 1 lay 3 % above the target at 30, run 2 lay 2.4 times the target at 40 and run 3 lay on the target at 29. By that the target lies at 29.1, with 95 % probability between the lower end 10 and 33.5.',
  'Done: with the lever as it stands at 30, the true rate is within 3 % of the target with more than 99 % probability. Leave it there.',
  'So far the rate with the lever set to 30 is within 3 % of the target with 71 % probability; 90 % is wanted. Probably one more run, 25 turns in all.',
  'So far the rate with the lever set to 30 is within 3 % of the target with 71 % probability; 90 % is wanted. Probably 4 more runs, 100 turns in all.',
  'run 3 landed within 3 % of the target, but a single run scatters by about 2.1 % either way: it can hit by luck. All runs together put the rate 1.2 % above it, and right with 66 % probability.',
  'The rows differ by 3.1 %, more than the 1.2 % that chance gives: about 2.9 % (1.8 to 5.2 %) is the drill’s own. Row 4 is farthest from the mean, 4.2 % below it.',
  'Row 4 is farthest from the mean, 4.2 % below it; that may be luck.',
  'This run will end at 84 ± 1 g where 85 g are wanted: more turns would tell little more. You may stop now.',
  "The board's time leapt by 0.72 s between two readings. The board's time stood still or ran back, 3 times. The times of wheel pulses do not fit those of the readings, 4 times. Turns and grams are still counted right, but speed and seconds are not to be trusted.",
  'The 200 g mass reads 3.1 g too much: is it the right mass, and does nothing touch? Weigh it again, or leave it out.',
  'The third weighing, of 200 g + 50 g, reads 3.1 g too little: is it the right mass, and does nothing touch? Weigh it again, or leave it out.',
  'The weighings lie on no line. One of these is wrong: the 200 g mass by 3.1 g, or the empty scale by 2.9 g. Weigh one more mass to see which.',
  'The weighings lie on no line. One of these is wrong: the first weighing, of the empty scale, by 3.1 g, or the 11th weighing, of 200 g, by 2.9 g. Weigh one more mass to see which.',
  'Cell 2: The 200 g mass reads 3.1 g too much: is it the right mass, and does nothing touch? Weigh it again, or leave it out.',
  'No run ends as the run of 2026-03-14T09:00:00.000Z is said to have.',
  'The catch weighed by hand in the run of 2026-03-14T09:00:00.000Z is missing or makes no sense.',
  'The figures of the run of 2026-03-14T09:00:00.000Z are not what figures are.',
  'The readings of the run of 2026-03-14T09:00:00.000Z do not give the figures that stand beside them.',
  'In the run of 2026-03-14T09:00:00.000Z: The wanted rate must be more than 0.',
  'In line 7 of the table, turns must be more than 0.',
  'In line 7 of the table: The row spacing in metres must be less than 5.',
  'The number of turns must be between 1 and 500; you gave 900.',
  'The part about the seed must be a group of values; you gave nothing.',
  'The number of rows caught must be a whole number; you gave the text "two".',
  'Set aside by the trace: The wheel turns and nothing falls into the bag. Look whether the hopper is empty, seed bridges over the meter, a gate is shut or the tube is blocked.',
  'Set aside by you: the bag touched something',
  'A run is under way. Let it end, then import.',
  'A run is under way. Let it end, then restore.',
];

const book = phrasebook(english, german, {
  say: (text, values) => format(text as Text, values),
  decimal: ',',
});

const inGerman = (told: string): string =>
  book(told)
    .map(({ text }) => text)
    .join(' ');
const leftInEnglish = /\b(the|and|with|without|of|by|must)\b/i;

describe('the phrase book', () => {
  it('is asked about the whole server', () => {
    expect(speaking.length).toBeGreaterThan(50);
  });

  it.each(speaking)('knows every sentence of server/%s', (_, sentences) => {
    const unknown = sentences.flatMap((sentence) =>
      book(sentence)
        .filter(({ known, text }) => !known && !byFunctions.has(text))
        .map(({ text }) => text),
    );
    expect(unknown).toEqual([]);
  });

  it.each(saidCodes.remarks)('knows what the check of a stand remarks: %s', (code) => {
    const sentence = 'Weigh the empty scale too: without a zero there is no line.';
    for (const word of ['7.5', '']) {
      const given: Record<string, string> = { sentence, word };
      const values = new Proxy({}, { get: (_, key) => given[String(key)] ?? '7.5' });
      const told = remarkSentence({ code, values });
      expect(inGerman(told), 'no part is left in English').not.toMatch(leftInEnglish);
    }
  });

  it.each(putTogether)('knows: %s', (told) => {
    expect(book(told).filter(({ known }) => !known)).toEqual([]);
    expect(inGerman(told), 'no part is left in English').not.toMatch(leftInEnglish);
  });

  describe('in French', () => {
    beforeAll(() => {
      speak(en, 'fr');
      tellIn(english, french);
    });
    afterAll(() => {
      speak(en, 'en');
      tellIn(null, null);
    });

    it.each([
      [
        'Done: 25.02 turns, 84.2 g caught. Too little seed was weighed to state a rate.',
        'Terminé\u00a0: 25,02 tours, 84,2 g recueillis. Trop peu de semence a été pesée pour donner une dose.',
      ],
      [
        'Run 1 lay 12 % below the target at 24 and run 2 lay 4.1 % above the target at 28. By that the target lies at 27.3, with 95 % probability between 26.1 and 28.9.',
        'Essai 1 était 12\u00a0% au-dessous de l’objectif à 24, essai 2 était 4,1\u00a0% au-dessus de l’objectif à 28. D’après cela, l’objectif est à 27,3, entre 26,1 et 28,9 avec une probabilité de 95\u00a0%.',
      ],
      [
        'The reading of bag 2 jumped up by 3.1 g and stayed there, with no seed to account for it.',
        'La mesure a sauté de 3,1 g vers le haut et y est restée, sans semence pour l’expliquer (sac 2).',
      ],
      ['measured: run 1, run 2 and run 5', 'mesuré\u00a0: essai 1, essai 2, essai 5'],
    ])('says %s', (told, wanted) => expect(toldWords(told)).toBe(wanted));

    it('leaves alone what it does not know, names and paths, and marks it', () => {
      expect(toldWords('The stand shed-1.5 is connected.')).toBe('Le banc shed-1.5 est connecté.');
      expect(toldWords('Nobody ever wrote this. Get ready again.')).toBe(
        'Nobody ever wrote this. Préparez de nouveau.',
      );
    });
  });

  it('loses nothing of what it does not know, and never throws', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const unknown = book(text).filter(({ known }) => !known);
        for (const { text: piece } of unknown) {
          expect(text.replaceAll("'", '’').replaceAll('\u00a0', ' ')).toContain(piece);
        }
      }),
      { numRuns: 500 },
    );
  });
});
