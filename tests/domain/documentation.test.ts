import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseAst } from 'vite';
import { describe, expect, it } from 'vitest';

/** What a stranger may count on when reading server/domain: every public name explained, every function on one screen. */

const folder = fileURLToPath(new URL('../../server/domain/', import.meta.url));
const files = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .sort();

/** Lines that a function may have, its signature and closing brace counted. */
const longestFunction = 40;

interface Node {
  type: string;
  start: number;
  end: number;
  [key: string]: unknown;
}

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';

/** The node and everything below it. */
function* below(node: Node): Generator<Node> {
  yield node;
  for (const value of Object.values(node)) {
    for (const child of Array.isArray(value) ? value : [value]) {
      if (isNode(child)) yield* below(child);
    }
  }
}

/** The documentation comment that ends right before `position`, or null. */
function docBefore(text: string, position: number): string | null {
  return /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*$/.exec(text.slice(0, position))?.[1] ?? null;
}

interface Public {
  name: string;
  kind: string;
  doc: string | null;
  source: string;
}

const nameOf = (node: unknown): string => (isNode(node) ? String(node.name ?? node.value ?? '?') : '?');

/** Every name that a file exports where it is declared, with its documentation. */
function publicNames(text: string): Public[] {
  const program = parseAst(text, { lang: 'ts' }) as unknown as { body: Node[] };
  return program.body.flatMap((statement): Public[] => {
    const declaration = statement.declaration;
    if (statement.type !== 'ExportNamedDeclaration' || !isNode(declaration)) return [];
    const of = (node: Node, name: string, kind = node.type): Public => ({
      name,
      kind,
      doc: docBefore(text, node === declaration ? statement.start : node.start),
      source: text.slice(node.start, node.end),
    });
    if (declaration.type === 'VariableDeclaration') {
      const names = (declaration.declarations as Node[]).map((each) => nameOf(each.id));
      return names.map((name) => of(declaration, name));
    }
    return [of(declaration, nameOf(declaration.id))];
  });
}

interface Long {
  where: string;
  lines: number;
}

/** Functions of a file with the number of lines that each takes. */
function functionsOf(file: string, text: string): Long[] {
  const program = parseAst(text, { lang: 'ts' }) as unknown as Node;
  return [...below(program)]
    .filter((node) => /^(FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/.test(node.type))
    .map((node) => ({
      where: `${file}:${text.slice(0, node.start).split('\n').length}`,
      lines: text.slice(node.start, node.end).split('\n').length,
    }));
}

/** Files that the index leads to; the rest is groundwork, of which no stranger reads. */
const index = readFileSync(`${folder}index.ts`, 'utf8');
const publicFiles = files.filter((file) => index.includes(`'./${file}'`));

describe('the reader of a public name', () => {
  it('has modules to look into', () => {
    expect(publicFiles.length).toBeGreaterThan(50);
  });

  it.each(publicFiles)('%s: finds it explained', (file) => {
    const text = readFileSync(folder + file, 'utf8');
    const silent = publicNames(text).filter(({ doc }) => doc === null || doc.trim().length < 6);
    expect(silent.map(({ name }) => name)).toEqual([]);
  });

  it('sees what the check would miss: names without a comment, or with a plain one', () => {
    const text =
      '/** Grams. */\nexport const a = 1;\nexport const b = 2;\n/* plain */\nexport function c() {}\nconst inner = 3;\nexport interface D {}\n';
    const silent = publicNames(text).filter(({ doc }) => doc === null);
    expect(publicNames(text).map(({ name }) => name)).toEqual(['a', 'b', 'c', 'D']);
    expect(silent.map(({ name }) => name)).toEqual(['b', 'c', 'D']);
  });

  it.each(publicFiles)('%s: is told which functions refuse what', (file) => {
    const text = readFileSync(folder + file, 'utf8');
    const silent = publicNames(text).filter(
      ({ kind, source, doc }) =>
        kind === 'FunctionDeclaration' &&
        /\bthrow\b|\bchecked\(/.test(source) &&
        !/DomainError/.test(doc ?? ''),
    );
    expect(silent.map(({ name }) => name)).toEqual([]);
  });

  it.each(files)('%s: has no function longer than a screen', (file) => {
    const text = readFileSync(folder + file, 'utf8');
    const long = functionsOf(file, text).filter(({ lines }) => lines > longestFunction);
    expect(long).toEqual([]);
  });

  it('counts the lines of functions within functions too', () => {
    const lines = functionsOf(
      'x.ts',
      'function a() {\n  const b = () => {\n    return 1;\n  };\n  return b;\n}\n',
    );
    expect(lines).toEqual([
      { where: 'x.ts:1', lines: 6 },
      { where: 'x.ts:2', lines: 3 },
    ]);
  });
});
