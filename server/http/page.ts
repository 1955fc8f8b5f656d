import { existsSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';

const notBuilt =
  'The page has not been built. Run `npm run build`, or use `npm start` or `npm run demo`, which build it.';

/** Serves the built page from `folder`. Names under assets/ carry a hash of their content and never change. */
export async function addPage(app: FastifyInstance, folder: string): Promise<void> {
  if (!existsSync(join(folder, 'index.html'))) {
    app.get('/', { config: { role: 'open' }, schema: { hide: true } }, async (_request, reply) =>
      reply.code(503).send({ code: 'no-page', message: notBuilt }),
    );
    return;
  }
  await app.register(async (scope) => {
    // The page holds nothing that is on record: a device that is not paired needs it in order to pair.
    scope.addHook('onRoute', (route) => {
      route.config = { ...route.config, role: 'open' };
    });
    await scope.register(fastifyStatic, {
      root: folder,
      cacheControl: false,
      setHeaders: (reply, path) => {
        const forGood = path.startsWith(join(folder, 'assets'));
        reply.header('cache-control', forGood ? 'public, max-age=31536000, immutable' : 'no-cache');
      },
    });
  });
}
