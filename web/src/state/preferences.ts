import { effect, signal } from '@preact/signals';
import { en } from '../../texts/en/index.ts';
import type { Phrases } from '../../texts/phrasebook.ts';
import { keep, recall } from './kept.ts';
import { bestLanguage, type Language, language, languages } from './language.ts';
import { speak, type Tree } from './say.ts';
import { tellIn } from './told.ts';

/** What a person has chosen on this device, kept in its browser: the language and the sounds. The units are in store.ts. */

/** The texts of each language but English, which is there at once. */
const loaders: Record<Exclude<Language, 'en'>, () => Promise<{ texts: Tree; told: Phrases }>> = {
  fr: () => import('../../texts/fr/all.ts'),
  es: () => import('../../texts/es/all.ts'),
  de: () => import('../../texts/de/all.ts'),
};

/** The language kept on this device, or null where the browser's decides. */
export const chosenLanguage = (): Language | null =>
  languages.find((one) => one === recall(() => localStorage, 'language')) ?? null;

let wanted: Language = 'en';

/** Speaks this language from now on. Resolves to false where its texts could not be fetched; then all stays as it was. */
export async function speakLanguage(to: Language): Promise<boolean> {
  wanted = to;
  try {
    const [{ texts, told }, english] =
      to === 'en'
        ? [{ texts: en, told: null }, null]
        : await Promise.all([loaders[to](), import('../../texts/en/told.ts')]);
    // Of several chosen in haste the last one counts.
    if (wanted !== to) return true;
    speak(texts, to);
    tellIn(english?.told ?? null, told);
    return true;
  } catch {
    return false;
  }
}

/** Speaks the language of this device: the one chosen, else the first of the browser's that the page knows. */
export const speakOwnLanguage = (): Promise<boolean> =>
  speakLanguage(chosenLanguage() ?? bestLanguage(navigator.languages ?? [navigator.language]));

/** Speaks this language from now on and on the next visit. */
export async function chooseLanguage(to: Language): Promise<boolean> {
  const spoken = await speakLanguage(to);
  if (spoken) keep(() => localStorage, 'language', to);
  return spoken;
}

/** Whether the last turns and the end of a run are to be heard. Off until someone wants it. */
export const sounds = signal(recall(() => localStorage, 'sounds') === 'on');
effect(() => keep(() => localStorage, 'sounds', sounds.value ? 'on' : 'off'));

if (typeof document !== 'undefined') {
  effect(() => {
    document.documentElement.lang = language.value;
  });
}
