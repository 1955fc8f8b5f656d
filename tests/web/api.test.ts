import { afterEach, describe, expect, it, vi } from 'vitest';
import { request } from '../../web/src/state/api.ts';

const answers = (response: Response) => vi.stubGlobal('fetch', async () => response);
afterEach(() => void vi.unstubAllGlobals());

describe('a request', () => {
  it('that is answered has the answer, or its sentence', async () => {
    answers(Response.json({ turns: 25 }));
    expect(await request('GET', 'plan')).toEqual({ ok: true, value: { turns: 25 } });
    answers(Response.json({ code: 'busy', message: 'Not now.' }, { status: 409 }));
    expect(await request('GET', 'plan')).toMatchObject({ ok: false, status: 409, problem: { code: 'busy' } });
  });

  it('answered without words is done', async () => {
    answers(new Response(null, { status: 200 }));
    expect(await request('POST', 'plan')).toEqual({ ok: true, value: null });
  });

  it('whose answer is cut off has none', async () => {
    const cutOff = new ReadableStream({
      start(controller) {
        controller.enqueue(new TextEncoder().encode('{"turns":'));
        controller.error(new TypeError('network error'));
      },
    });
    answers(new Response(cutOff, { status: 200 }));
    expect(await request('GET', 'plan')).toEqual({ ok: false, status: 0, problem: null });
  });
});
