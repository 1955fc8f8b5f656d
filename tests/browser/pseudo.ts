import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';

/** A language that nobody speaks: English between marks and a third longer. What is seen without marks was left out of the texts. */

const assets = fileURLToPath(new URL('../../web/dist/assets/', import.meta.url));
const [open, close] = ['⟦', '⟧'];
/** So much longer than English a text may well be in another language. */
const longer = 0.35;

const padding = (letters: number): string =>
  ` ${'łöñg '.repeat(Math.ceil((letters * longer) / 5))}`.trimEnd();

type Part = { type: number; value?: string };

function pseudo(value: unknown): unknown {
  if (typeof value === 'string') return value === '' ? '' : `${open}${value}${padding(value.length)}${close}`;
  if (Array.isArray(value)) {
    if (typeof value[0] !== 'object') return value.map(pseudo);
    const letters = (value as Part[]).reduce((sum, part) => sum + (part.value?.length ?? 4), 0);
    return [{ type: 0, value: open }, ...value, { type: 0, value: padding(letters) + close }];
  }
  return Object.fromEntries(Object.entries(value as object).map(([key, inner]) => [key, pseudo(inner)]));
}

function built(name: string): Record<string, unknown> {
  const file = readdirSync(assets).find((each) => each.startsWith(`texts-${name}-`))!;
  return JSON.parse(readFileSync(assets + file, 'utf8')) as Record<string, unknown>;
}

/** Lets the page have the language that nobody speaks where it asks for French. */
export async function speakPseudo(page: Page): Promise<void> {
  const body = JSON.stringify({ texts: pseudo(built('en-index').en), told: pseudo(built('en-told').told) });
  await page.route(/texts-fr-all-/, (route) => route.fulfill({ contentType: 'application/json', body }));
  await page.addInitScript(() => localStorage.setItem('catchbench.language', 'fr'));
}

/** Visible texts and spoken labels that have letters and no marks. `known`: what a person typed, units, dates. */
export const unmarked = (page: Page, known: string[]): Promise<string[]> =>
  page.evaluate(
    ({ known, open }) => {
      const wordless = (text: string) => {
        let rest = text;
        for (const each of known) rest = rest.replaceAll(each, ' ');
        return !/\p{L}{2}/u.test(rest);
      };
      const found: string[] = [];
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
        const holder = node.parentElement!;
        const text = node.textContent!.trim();
        if (holder.closest('script, style, noscript, [lang]:not(html)') !== null) continue;
        if (!holder.checkVisibility() || text.includes(open) || wordless(text)) continue;
        found.push(`${holder.tagName.toLowerCase()}.${holder.className}: ${text}`);
      }
      for (const name of ['aria-label', 'title', 'placeholder', 'alt']) {
        for (const element of document.querySelectorAll(`[${name}]`)) {
          const text = element.getAttribute(name)!;
          if (!text.includes(open) && !wordless(text)) found.push(`${name}: ${text}`);
        }
      }
      return [...new Set(found)];
    },
    { known, open },
  );
