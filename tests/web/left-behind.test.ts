import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseAst } from 'vite';
import { describe, expect, it } from 'vitest';

/** Words written into the page's own code are words that stay in one language. */

const web = fileURLToPath(new URL('../../web/src/', import.meta.url));

interface Node {
  type: string;
  [key: string]: unknown;
}

/** Attributes whose words are seen or heard. */
const told = new Set(['aria-label', 'aria-description', 'title', 'placeholder', 'alt', 'label']);

/** Words that are the same in every language. */
const everywhere = new Set(['English', 'Français', 'Español', 'Deutsch']);

const isWords = (text: string): boolean => /\p{L}{2}/u.test(text) && !everywhere.has(text.trim());

/** Strings that an expression may show: itself, or either way of a condition. */
function shown(node: Node): string[] {
  switch (node.type) {
    case 'Literal':
      return typeof node.value === 'string' ? [node.value] : [];
    case 'TemplateLiteral':
      return (node.quasis as Node[]).map(({ value }) => (value as { cooked: string }).cooked);
    case 'ConditionalExpression':
      return [...shown(node.consequent as Node), ...shown(node.alternate as Node)];
    case 'LogicalExpression':
      return [...shown(node.left as Node), ...shown(node.right as Node)];
    case 'JSXExpressionContainer':
      return shown(node.expression as Node);
    default:
      return [];
  }
}

const nameOf = (opening: unknown): string =>
  String((opening as { name?: { name?: unknown } } | undefined)?.name?.name ?? '');

/** What the attributes of an element show; those of a component are its own matter, but for its label. */
function ofAttributes(opening: Node): string[] {
  const component = /^[A-Z]/.test(nameOf(opening));
  return (opening.attributes as Node[]).flatMap((attribute) => {
    const { name, value } = attribute as unknown as { name?: { name: string }; value: Node | null };
    const seen = name !== undefined && told.has(name.name) && (!component || name.name === 'label');
    return seen && value !== null ? shown(value) : [];
  });
}

function leftBehind(node: unknown, found: string[]): void {
  if (Array.isArray(node)) {
    for (const each of node) leftBehind(each, found);
    return;
  }
  if (typeof node !== 'object' || node === null) return;
  const { type, openingElement } = node as Node;
  // What one types into another program is no language.
  if (type === 'JSXElement' && nameOf(openingElement) === 'code') return;
  if (type === 'JSXText') found.push((node as Node).value as string);
  if (type === 'JSXElement' || type === 'JSXFragment') {
    for (const child of (node as Node).children as Node[]) found.push(...shown(child));
  }
  if (type === 'JSXOpeningElement') found.push(...ofAttributes(node as Node));
  for (const value of Object.values(node)) leftBehind(value, found);
}

const wordsIn = (source: string): string[] => {
  const found: string[] = [];
  leftBehind(parseAst(source, { lang: 'tsx' }), found);
  return found.filter(isWords).map((text) => text.trim());
};

function components(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return components(path);
    return entry.name.endsWith('.tsx') ? [path] : [];
  });
}

describe('strings left behind', () => {
  it('are found in text, in attributes and in conditions', () => {
    const source = '<p title="Hello you" class="note">{full ? "Stop now" : say.x} {"mark "} Left here</p>;';
    expect(wordsIn(source).sort()).toEqual(['Hello you', 'Left here', 'Stop now', 'mark']);
    expect(wordsIn('<p class="note" title={say.x}>{say.y} ± 5 %</p>;')).toEqual([]);
  });

  it('are nowhere in the page', () => {
    const files = components(web);
    expect(files.length).toBeGreaterThan(30);
    const found = files.flatMap((file) =>
      wordsIn(readFileSync(file, 'utf8')).map((text) => `${file.slice(web.length)}: ${text}`),
    );
    expect(found).toEqual([]);
  });
});
