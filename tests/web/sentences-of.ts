import { readFileSync } from 'node:fs';
import { parseAst } from 'vite';

/** The sentences that a source file can say: its strings and templates put together, each way that its conditions may go. */

interface Node {
  type: string;
  [key: string]: unknown;
}

/** Stands for what is filled in. */
const filled = '◌';

/** Every text that an expression can make; null where it makes none that is written there. */
function textsOf(node: Node): string[] | null {
  switch (node.type) {
    case 'Literal':
      return typeof node.value === 'string' ? [node.value] : null;
    case 'TemplateLiteral': {
      const quasis = (node.quasis as Node[]).map(({ value }) => (value as { cooked: string }).cooked);
      const inner = (node.expressions as Node[]).map((each) => textsOf(each) ?? [filled]);
      return quasis
        .slice(1)
        .reduce(
          (heads, quasi, index) => heads.flatMap((head) => inner[index]!.map((text) => head + text + quasi)),
          [quasis[0]!],
        );
    }
    case 'BinaryExpression': {
      if (node.operator !== '+') return null;
      const [left, right] = [textsOf(node.left as Node), textsOf(node.right as Node)];
      if (left === null && right === null) return null;
      return (left ?? [filled]).flatMap((head) => (right ?? [filled]).map((tail) => head + tail));
    }
    case 'ConditionalExpression': {
      const [one, other] = [textsOf(node.consequent as Node), textsOf(node.alternate as Node)];
      return one === null && other === null ? null : [...(one ?? [filled]), ...(other ?? [filled])];
    }
    case 'ParenthesizedExpression':
    case 'TSAsExpression':
      return textsOf(node.expression as Node);
    default:
      return null;
  }
}

function collect(node: unknown, found: string[]): void {
  if (Array.isArray(node)) {
    for (const each of node) collect(each, found);
    return;
  }
  if (typeof node !== 'object' || node === null) return;
  const { type } = node as Node;
  if (type === 'ImportDeclaration') return;
  const texts = type === undefined ? null : textsOf(node as Node);
  if (texts !== null) found.push(...texts);
  // What is filled in may hold sentences of its own.
  for (const value of Object.values(node)) collect(value, found);
}

/** Puts a sentence where a whole one is filled in, and a figure where a part of one is. */
const fill = (text: string): string =>
  text
    .replace(/\.\s?◌+$/g, '.')
    .replace(/(^|[.!?] )◌(?= [A-Z])/g, '$1Ready.')
    .replaceAll(filled, '7.5');

/** Every whole sentence, or several, that the file at `path` can say. */
export function sentencesOf(path: string): string[] {
  const found: string[] = [];
  collect(parseAst(readFileSync(path, 'utf8'), { lang: 'ts' }), found);
  return [...new Set(found.map((text) => fill(text).trim()))].filter((text) =>
    /^[A-Z0-9].* .*\.$/s.test(text),
  );
}
