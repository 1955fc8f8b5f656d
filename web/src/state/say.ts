import { batch, signal } from '@preact/signals';
import { IntlMessageFormat } from 'intl-messageformat';
import { en } from '../../texts/en/index.ts';
import type { Spoken } from '../../texts/messages.ts';
import { type Language, language } from './language.ts';

/** Everything that the page can say: `say.runs.none`, `say.live.target({ grams })`. In a component it follows the language. */
export type Say = Spoken<typeof en>;

/** Texts of a language: as written, or as the build leaves them, taken apart already where they want values. */
export type Tree = { readonly [key: string]: Tree | Text | readonly string[] };
export type Text = string | Exclude<ConstructorParameters<typeof IntlMessageFormat>[0], string>;

/** The texts spoken now, and those of them that were read already. */
const spoken = signal<{ texts: Tree; read: Map<Text, IntlMessageFormat> }>({ texts: en, read: new Map() });

/** Speaks other texts from now on, which count and write numbers as this language does. */
export function speak(texts: Tree, as: Language): void {
  batch(() => {
    language.value = as;
    spoken.value = { texts, read: new Map() };
  });
}

/** Puts values into a text. */
export function format(text: Text, values: Record<string, string | number>): string {
  if (!wantsValues(text)) return String(text);
  const { read } = spoken.value;
  let message = read.get(text);
  if (message === undefined) {
    message = new IntlMessageFormat(text, language.value, undefined, { ignoreTag: true });
    read.set(text, message);
  }
  return String(message.format(values));
}

/** True for a text that wants values: written with braces, or taken apart by the build. */
const wantsValues = (text: Text): boolean =>
  typeof text === 'string' ? text.includes('{') : typeof text[0] !== 'string';

/** The text at a place of the tree, as its users see it. */
function said(text: Text | readonly string[]) {
  if (!wantsValues(text as Text)) return text;
  return (values: Record<string, string | number>) => format(text as Text, values);
}

const isGroup = (value: Tree[string]): value is Tree => typeof value === 'object' && !Array.isArray(value);

/**
 * The groups of `model`, each key reading what is spoken at the moment; so a group may be taken aside once and for all. What the language spoken
 * lacks (a page older than its texts) is said in English.
 */
function follow(model: Tree, now: () => Tree | undefined): object {
  const group = {};
  for (const [key, value] of Object.entries(model)) {
    const here = () => now()?.[key] ?? value;
    const inner = isGroup(value) ? follow(value, here as () => Tree) : null;
    Object.defineProperty(group, key, { enumerable: true, get: () => inner ?? said(here() as Text) });
  }
  return group;
}

export const say = follow(en, () => spoken.value.texts) as Say;
