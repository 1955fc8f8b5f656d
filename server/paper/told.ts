import { told as de } from '../../web/texts/de/told.ts';
import { told as en } from '../../web/texts/en/told.ts';
import { told as es } from '../../web/texts/es/told.ts';
import { told as fr } from '../../web/texts/fr/told.ts';
import { type Phrases, phrasebook } from '../../web/texts/phrasebook.ts';
import type { PaperLanguage } from './words.ts';

/** What the server itself says, in the language of the paper. */

type Tell = (sentence: string) => string;

const others: Record<Exclude<PaperLanguage, 'en'>, Phrases> = { fr, es, de };
const tellers = new Map<PaperLanguage, Tell>();

function tellerOf(language: Exclude<PaperLanguage, 'en'>): Tell {
  const decimal = new Intl.NumberFormat(language).formatToParts(0.5)[1]!.value;
  const say = (text: unknown, values: Record<string, string>): string =>
    String(text).replace(/\{(\w+)\}/g, (_, name: string) => values[name] ?? '');
  const book = phrasebook(en, others[language], { say, decimal });
  return (sentence) =>
    book(sentence)
      .map(({ text }) => text)
      .join(' ');
}

/** Says a sentence of the server in this language; what the phrase book does not know stays English. */
export function paperTeller(language: PaperLanguage): Tell {
  if (language === 'en') return (sentence) => sentence;
  const tell = tellers.get(language) ?? tellerOf(language);
  tellers.set(language, tell);
  return tell;
}
