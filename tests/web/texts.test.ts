import { type MessageFormatElement, parse, TYPE } from '@formatjs/icu-messageformat-parser';
import { describe, expect, it } from 'vitest';
import { de } from '../../web/texts/de/index.ts';
import { en } from '../../web/texts/en/index.ts';
import { es } from '../../web/texts/es/index.ts';
import { fr } from '../../web/texts/fr/index.ts';
import { alike, alikeEverywhere } from './alike.ts';

type Tree = { readonly [key: string]: Tree | string | readonly string[] };

/** Every text of a tree by its path. */
function flat(tree: Tree | readonly string[], path = ''): Map<string, string> {
  const texts = new Map<string, string>();
  for (const [key, value] of Object.entries(tree)) {
    const here = path === '' ? key : `${path}.${key}`;
    if (typeof value === 'string') texts.set(here, value);
    else for (const [inner, text] of flat(value, here)) texts.set(inner, text);
  }
  return texts;
}

/** The values that a text wants, with their kinds, in no order. */
function values(text: string): string[] {
  const found = new Set<string>();
  const look = (elements: MessageFormatElement[]) => {
    for (const element of elements) {
      if (element.type === TYPE.literal || element.type === TYPE.pound) continue;
      const kind = element.type === TYPE.plural ? TYPE.number : element.type;
      found.add(`${element.value} ${TYPE[kind]}`);
      if (element.type === TYPE.plural || element.type === TYPE.select) {
        for (const { value } of Object.values(element.options)) look(value);
      }
    }
  };
  look(parse(text, { ignoreTag: true }));
  return [...found].sort();
}

const english = flat(en);
const others = { fr: flat(fr), es: flat(es), de: flat(de) };

describe('English', () => {
  it('is there at all', () => expect(english.size).toBeGreaterThan(300));

  it('has no straight apostrophes, which ICU takes for quotes, and no markup', () => {
    for (const [path, text] of english) expect(text, path).not.toMatch(/'|<[a-z/]/);
  });
});

describe.each(Object.entries(others))('the texts in %s', (language, texts) => {
  it('have the keys of English', () => expect([...texts.keys()]).toEqual([...english.keys()]));

  it('want the same values', () => {
    for (const [path, text] of texts) expect(values(text), path).toEqual(values(english.get(path)!));
  });

  it('count with the plural forms of their language', () => {
    const forms = new Intl.PluralRules(language).resolvedOptions().pluralCategories;
    for (const [path, text] of texts) {
      for (const [, options] of text.matchAll(/, plural, ((?:[^{}]|\{[^{}]*\})*)\}/g)) {
        const written = [...options!.matchAll(/([\w=]+) \{/g)].map(([, form]) => form!);
        expect(written, path).toContain('other');
        for (const form of written) expect(['=0', ...forms], `${path}: ${form}`).toContain(form);
      }
    }
  });

  it('are put into the language: none is left as it is in English without a reason', () => {
    const reasons = { ...alikeEverywhere, ...alike[language as keyof typeof alike] };
    const left = [...texts].filter(([path, text]) => {
      const wordless = !/\p{L}{2}/u.test(text.replace(/\{[^{}]*\}/g, ''));
      return text === english.get(path) && !wordless && !(text in reasons);
    });
    expect(left).toEqual([]);
  });

  it('hold together where a line must not break: no plain space before a percent sign', () => {
    for (const [path, text] of texts) expect(text, path).not.toMatch(/[\d}] %/);
  });

  it('have no straight apostrophes and no markup', () => {
    for (const [path, text] of texts) expect(text, path).not.toMatch(/'|<[a-z/]/);
  });
});

describe('French', () => {
  it('keeps a space that does not break before its tall marks', () => {
    for (const [path, text] of others.fr) {
      expect(text, path).not.toMatch(/ [:;?!»]/);
      expect(text, path).not.toMatch(/« /);
    }
  });
});
