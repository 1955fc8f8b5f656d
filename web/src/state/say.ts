import { signal } from '@preact/signals';
import { IntlMessageFormat } from 'intl-messageformat';
import { en } from '../../texts/en/index.ts';
import type { Spoken } from '../../texts/messages.ts';

/** Everything that the page can say: `say.runs.none`, `say.live.target({ grams })`. In a component it follows the language. */
export type Say = Spoken<typeof en>;

/** Texts of a language: as written, or as the build leaves them, taken apart already where they want values. */
export type Tree = { readonly [key: string]: Tree | Text | readonly string[] };
type Text = string | Exclude<ConstructorParameters<typeof IntlMessageFormat>[0], string>;

/** The texts spoken now, with the language tag by which they count and write numbers. */
const spoken = signal<{ texts: Tree; tag: string; read: Map<Text, IntlMessageFormat> }>({
  texts: en,
  tag: 'en',
  read: new Map(),
});

/** Speaks other texts from now on. `tag`: the language tag by which they count and write numbers. */
export function speak(texts: Tree, tag: string): void {
  spoken.value = { texts, tag, read: new Map() };
}

function format(text: Text, values: Record<string, string | number>): string {
  const { tag, read } = spoken.value;
  let message = read.get(text);
  if (message === undefined) {
    message = new IntlMessageFormat(text, tag, undefined, { ignoreTag: true });
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

/** The groups of `model`, each key reading what is spoken at the moment; so a group may be taken aside once and for all. */
function follow(model: Tree, now: () => Tree): object {
  const group = {};
  for (const [key, value] of Object.entries(model)) {
    const inner = isGroup(value) ? follow(value, () => now()[key] as Tree) : null;
    const get = () => inner ?? said(now()[key] as Text);
    Object.defineProperty(group, key, { enumerable: true, get });
  }
  return group;
}

export const say = follow(en, () => spoken.value.texts) as Say;
