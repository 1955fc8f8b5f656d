import { IntlMessageFormat } from 'intl-messageformat';
import { paper as de } from '../../web/texts/de/paper.ts';
import { paper as en } from '../../web/texts/en/paper.ts';
import { paper as es } from '../../web/texts/es/paper.ts';
import { paper as fr } from '../../web/texts/fr/paper.ts';
import type { PaperWords } from './compose/types.ts';

/** The texts of the page's own `paper` topic, spoken by the server. */

export const paperLanguages = ['en', 'fr', 'es', 'de'] as const;
export type PaperLanguage = (typeof paperLanguages)[number];

interface Texts {
  readonly [key: string]: string | readonly string[] | Texts;
}

const written: Record<PaperLanguage, Texts> = { en, fr, es, de };
const spoken = new Map<PaperLanguage, PaperWords>();

function speak(texts: Texts, language: string): object {
  const said = Object.entries(texts).map(([key, text]) => {
    if (typeof text === 'object') return [key, Array.isArray(text) ? text : speak(text as Texts, language)];
    if (!text.includes('{')) return [key, text];
    const message = new IntlMessageFormat(text, language, undefined, { ignoreTag: true });
    return [key, (values: Record<string, string | number>) => String(message.format(values))];
  });
  return Object.fromEntries(said);
}

/** What paper says in this language. */
export function paperWords(language: PaperLanguage): PaperWords {
  let words = spoken.get(language);
  if (words === undefined) {
    words = speak(written[language], language) as PaperWords;
    spoken.set(language, words);
  }
  return words;
}
