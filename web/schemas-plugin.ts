import { build } from 'esbuild';
import type { Plugin } from 'vite';

/** What tells people about a field, not programs. */
const forPeople = new Set(['description', 'examples']);

const limitsAlone = (key: string, value: unknown) => (forPeople.has(key) ? undefined : value);

/**
 * Puts the schemas of the server's messages into the page as the plain data that they are, so that the library they are written with need not travel
 * along: 27 kB of script, gzipped. The page reads limits off them and checks nothing.
 */
export const schemasAsData = (): Plugin => ({
  name: 'schemas-as-data',
  enforce: 'pre',
  async load(id) {
    if (!id.endsWith('/server/http/messages.ts')) return null;
    const bundle = await build({
      entryPoints: [id],
      bundle: true,
      write: false,
      format: 'esm',
      platform: 'node',
    });
    const script = bundle.outputFiles[0]!.text;
    const schemas = (await import(`data:text/javascript,${encodeURIComponent(script)}`)) as object;
    return Object.entries(schemas)
      .filter(([, schema]) => typeof schema === 'object')
      .map(([name, schema]) => `export const ${name} = ${JSON.stringify(schema, limitsAlone)};`)
      .join('\n');
  },
});
