import { createHash } from 'node:crypto';
import { parse } from '@formatjs/icu-messageformat-parser';
import { build } from 'esbuild';
import type { Plugin } from 'vite';

type Texts = { [key: string]: string | Texts | Texts[] };

/** The tree with every text that wants values taken apart. */
function takenApart(value: string | Texts | Texts[]): unknown {
  if (typeof value === 'string') {
    return value.includes('{') ? parse(value, { ignoreTag: true, captureLocation: false }) : value;
  }
  if (Array.isArray(value)) return value.map(takenApart);
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, takenApart(inner)]));
}

/** What a module of texts exports. */
async function textsOf(path: string): Promise<Texts> {
  const bundle = await build({ entryPoints: [path], bundle: true, write: false, format: 'esm' });
  const script = bundle.outputFiles[0]!.text;
  return { ...((await import(`data:text/javascript,${encodeURIComponent(script)}`)) as Texts) };
}

/** All texts of a language in one file: English of the page, English of the server, and both of each other language. */
const wholes = /\/texts\/([a-z]{2})\/(index|told|all)\.ts$/;

/**
 * Makes data of the texts when the page is built: each language a JSON file of its own, fetched when it is spoken, its messages taken apart already, so
 * that neither texts nor a parser of them travel as script. Beside `npx vite web` the texts stay modules, and are read as they are used.
 */
export const textsAsData = (): Plugin => ({
  name: 'texts-as-data',
  apply: 'build',
  enforce: 'pre',
  config: () => ({
    resolve: {
      alias: {
        '@formatjs/icu-messageformat-parser': '@formatjs/icu-messageformat-parser/no-parser.js',
      },
    },
  }),
  async load(id) {
    const [, language, part] = wholes.exec(id) ?? [];
    if (language === undefined || (part !== 'all' && language !== 'en')) return null;
    const texts = await textsOf(id);
    const source = JSON.stringify(takenApart(texts));
    const hash = createHash('sha256').update(source).digest('base64url').slice(0, 8);
    const name = `texts-${language}-${part}-${hash}.json`;
    this.emitFile({ type: 'asset', fileName: `assets/${name}`, source });
    const names = Object.keys(texts);
    return [
      `const answer = await fetch(import.meta.url.replace(/[^/]*$/, ${JSON.stringify(name)}));`,
      `const { ${names.map((each, index) => `${each}: text${index}`).join(', ')} } = await answer.json();`,
      `export { ${names.map((each, index) => `text${index} as ${each}`).join(', ')} };`,
    ].join('\n');
  },
});
