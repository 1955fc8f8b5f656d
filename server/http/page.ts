import { existsSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';

/** Where the page may get things from: here, and nowhere else. */
const contentPolicy =
  "default-src 'self'; img-src 'self' data:; connect-src 'self' ws:; frame-ancestors 'none'";

const notBuilt =
  'The page has not been built. Run `npm run build`, or use `npm start` or `npm run demo`, which build it.';

/** Serves the built page from `folder`. Names under assets/ carry a hash of their content and never change. */
export async function addPage(app: FastifyInstance, folder: string): Promise<void> {
  app.addHook('onSend', async (_request, reply) => {
    reply.headers({
      'content-security-policy': contentPolicy,
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
    });
  });
  if (!existsSync(join(folder, 'index.html'))) {
    app.get('/', { schema: { hide: true } }, async (_request, reply) =>
      reply.code(503).send({ code: 'no-page', message: notBuilt }),
    );
    return;
  }
  await app.register(fastifyStatic, {
    root: folder,
    cacheControl: false,
    setHeaders: (reply, path) => {
      const forGood = path.startsWith(join(folder, 'assets'));
      reply.header('cache-control', forGood ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
}
