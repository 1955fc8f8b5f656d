import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { schemasAsData } from './schemas-plugin.ts';
import { textsAsData } from './texts-plugin.ts';

/**
 * The page as the device keeps it: every file of the build, so that it opens without the server. A new version waits until a person takes it, or
 * until the page is opened anew: what is on the screen never changes under someone's hands. What the server says is never kept.
 */
const keptOnDevice = VitePWA({
  strategies: 'generateSW',
  registerType: 'prompt',
  injectRegister: null,
  manifestFilename: 'app.webmanifest',
  manifest: {
    name: 'Catchbench',
    short_name: 'Catchbench',
    description: 'Calibrate a seed drill on its stand.',
    start_url: './',
    scope: './',
    id: './',
    display: 'standalone',
    background_color: '#f1eff2',
    theme_color: '#4c2a55',
    icons: [
      { src: 'app-icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' },
      { src: 'app-icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'maskable' },
      { src: 'app-icon.png', sizes: '512x512', type: 'image/png', purpose: 'any' },
    ],
  },
  workbox: {
    mode: 'production',
    globPatterns: ['**/*.{html,js,json,css,svg,png,webmanifest}'],
    navigateFallback: 'index.html',
    navigateFallbackDenylist: [/^\/(api|metrics)\b/],
    cleanupOutdatedCaches: true,
    clientsClaim: true,
    inlineWorkboxRuntime: true,
    sourcemap: false,
  },
});

/** The page: no address outside its own server, so that it works with the cable out; relative paths, so that it may be served anywhere. */
export default defineConfig({
  root: dirname(fileURLToPath(import.meta.url)),
  base: './',
  plugins: [textsAsData(), schemasAsData(), keptOnDevice],
  resolve: { alias: { '@kurkle/color': fileURLToPath(new URL('no-colour.ts', import.meta.url)) } },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact', development: false } },
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    // 4 % smaller than by the builder's own.
    minify: 'terser',
    terserOptions: { ecma: 2020, module: true, compress: { passes: 2 } },
    modulePreload: false,
    rolldownOptions: {
      output: {
        // Few files with names that say what they hold: many small ones pack worse and cost a request each.
        codeSplitting: {
          groups: [
            { name: 'chart', test: /node_modules[\\/]chart\.js|no-colour/ },
            { name: 'library', test: /node_modules[\\/](preact|@preact|intl-messageformat|@formatjs)/ },
            { name: 'shared', test: /\/(web\/src|server)\//, minShareCount: 2 },
          ],
        },
      },
    },
  },
  server: {
    // While the page is being worked on: `npx vite web` beside a running `npm run demo`.
    proxy: { '/api': { target: 'http://127.0.0.1:8321', ws: true } },
  },
});
