import helmet from '@fastify/helmet';
import type { FastifyInstance } from 'fastify';

/** Where the page may get things from: here, and nowhere else. Neither inline scripts nor inline styles. */
const directives = {
  defaultSrc: ["'self'"],
  imgSrc: ["'self'", 'data:', 'blob:'],
  workerSrc: ["'self'"],
  manifestSrc: ["'self'"],
  objectSrc: ["'none'"],
  baseUri: ["'none'"],
  formAction: ["'self'"],
  frameAncestors: ["'none'"],
};

/** Strict headers on every answer. */
export async function addHeaders(app: FastifyInstance): Promise<void> {
  await app.register(helmet, {
    contentSecurityPolicy: { useDefaults: false, directives },
    referrerPolicy: { policy: 'no-referrer' },
    xFrameOptions: { action: 'deny' },
    // With a certificate of one's own making a browser told to insist would lock its owner out; and on localhost, out of other programs too.
    strictTransportSecurity: false,
  });
  app.addHook('onSend', async (request, reply) => {
    reply.header(
      'permissions-policy',
      'camera=(), microphone=(), geolocation=(), payment=(), usb=(), serial=()',
    );
    // What is on record is nobody's business after the page has shown it.
    if (request.url.startsWith('/api') && !reply.hasHeader('cache-control')) {
      reply.header('cache-control', 'no-store');
    }
  });
}
