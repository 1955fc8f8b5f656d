import { signal } from '@preact/signals';

/** The languages of the page, English first because it is there at once. */
export const languages = ['en', 'fr', 'es', 'de'] as const;
export type Language = (typeof languages)[number];

/** The language spoken now; texts and numbers follow it. */
export const language = signal<Language>('en');

/** The first of these wishes (language tags, most wanted first) that the page speaks. */
export function bestLanguage(wishes: readonly (string | null)[]): Language {
  for (const wish of wishes) {
    const primary = wish?.toLowerCase().split(/[-_]/)[0];
    const spoken = languages.find((one) => one === primary);
    if (spoken !== undefined) return spoken;
  }
  return 'en';
}
