import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import { textsTakenApart } from './texts-plugin.ts';

/** The page: no address outside its own server, so that it works with the cable out; relative paths, so that it may be served anywhere. */
export default defineConfig({
  root: dirname(fileURLToPath(import.meta.url)),
  base: './',
  plugins: [textsTakenApart()],
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: {
    // While the page is being worked on: `npx vite web` beside a running `npm run demo`.
    proxy: { '/api': { target: 'http://127.0.0.1:8321', ws: true } },
  },
});
