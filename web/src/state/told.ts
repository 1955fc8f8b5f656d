import { signal } from '@preact/signals';
import { type Phrases, type Piece, phrasebook } from '../../texts/phrasebook.ts';
import { decimalMark } from './format.ts';
import { format, type Text } from './say.ts';

/** What the server says, in the language of the page. */

const book = signal<((told: string) => Piece[]) | null>(null);

/** Says what the server says in these phrases from now on; with null as it comes, in English. */
export function tellIn(english: Phrases | null, other: Phrases | null): void {
  book.value =
    english === null || other === null
      ? null
      : phrasebook(english, other, {
          say: (text, values) => format(text as Text, values),
          decimal: decimalMark(),
        });
}

/** A sentence of the server in pieces; those not `known` are English. Without a phrase book all of it is known: the page speaks English. */
export const pieces = (told: string): Piece[] => book.value?.(told) ?? [{ text: told, known: true }];

/** The same as plain words, for where no piece can be marked. */
export const toldWords = (told: string): string =>
  pieces(told)
    .map(({ text }) => text)
    .join(' ');
