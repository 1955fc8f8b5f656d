import { afterEach, describe, expect, it } from 'vitest';
import { byHand } from '../../firmware-sim/drill/scenarios.ts';
import { Shop, type ShopOptions } from './shop.ts';

const opened: Shop[] = [];
afterEach(async () => {
  for (const shop of opened.splice(0)) await shop.shut();
});

async function connectedShop(options: ShopOptions = {}): Promise<Shop> {
  const shop = new Shop({ plan: { turns: 2 }, ...options });
  opened.push(shop);
  await shop.connected();
  return shop;
}

const code = (outcome: { ok: boolean; problem?: { code: string } }) =>
  outcome.ok ? 'ok' : outcome.problem?.code;

describe('commands, each in its place', () => {
  it('turns nothing at connection and at arming', async () => {
    const shop = await connectedShop();
    expect(code(await shop.answer(shop.session.arm()))).toBe('ok');
    await shop.pass(3);
    expect(shop.stand.board.motor).toBe(false);
    expect(shop.drill.truth.turns()).toBe(0);
  });

  it('arms at once after connecting, while the settings of the stand are still being read', async () => {
    const shop = new Shop({ plan: { turns: 2 } });
    opened.push(shop);
    await shop.until(() => shop.session.view().link.condition === 'connected');
    const arms = await shop.answer(Promise.all([shop.session.arm(), shop.session.arm()]));
    expect(arms.map(code)).toEqual(['ok', 'run-under-way']);
  });

  it('answers start when the board says that the wheel turns', async () => {
    const shop = await connectedShop();
    await shop.answer(shop.session.arm());
    const started = await shop.answer(shop.session.start());
    expect(started.ok && started.value.figures.phase).toBe('turning');
    expect(shop.stand.board.motor).toBe(true);
  });

  it('refuses to start what is not armed', async () => {
    const shop = await connectedShop();
    expect(code(await shop.session.start())).toBe('not-ready');
    const arming = shop.session.arm();
    expect(await shop.session.start()).toMatchObject({
      problem: { code: 'not-ready', message: expect.stringMatching(/[Tt]aring|moved/) },
    });
    expect(code(await shop.answer(arming))).toBe('ok');
  });

  it('takes one of two arms, and one of two starts', async () => {
    const shop = await connectedShop();
    const arms = await shop.answer(Promise.all([shop.session.arm(), shop.session.arm()]));
    expect(arms.map(code)).toEqual(['ok', 'run-under-way']);
    const starts = await shop.answer(Promise.all([shop.session.start(), shop.session.start()]));
    expect(starts.map(code)).toEqual(['ok', 'two-at-once']);
    expect(code(await shop.session.start())).toBe('run-under-way');
    expect(code(await shop.session.arm())).toBe('run-under-way');
    expect(code(await shop.session.choosePort('/dev/other'))).toBe('run-under-way');
  });

  it('starts again after the board has let the arming go', async () => {
    const shop = await connectedShop();
    await shop.answer(shop.session.arm());
    await shop.pass(40); // the board keeps an arming for 30 s
    expect(code(await shop.answer(shop.session.start()))).toBe('ok');
    await shop.until(() => shop.phase === 'finished');
    expect(shop.session.view().run.figures.outcome).toBe('complete');
  });

  it('takes Stop at any time and as often as one likes', async () => {
    const shop = await connectedShop();
    expect(code(await shop.answer(shop.session.stop()))).toBe('ok');
    await shop.answer(shop.session.arm());
    await shop.answer(shop.session.start());
    const stops = await shop.answer(Promise.all([1, 2, 3].map(() => shop.session.stop())));
    expect(stops.map(code)).toEqual(['ok', 'ok', 'ok']);
    expect(shop.stand.board.motor).toBe(false);
    await shop.until(() => shop.phase === 'finished');
    expect(code(await shop.answer(shop.session.stop()))).toBe('ok');
  });

  it('writes Stop to the port before it does anything else', async () => {
    const shop = await connectedShop();
    await shop.answer(shop.session.arm());
    await shop.answer(shop.session.start());
    const atOnce = shop.stand.seconds;
    const stopping = shop.session.stop();
    await shop.until(() => !shop.stand.board.motor);
    expect(shop.stand.seconds - atOnce).toBeLessThan(0.01);
    await shop.answer(stopping);
  });

  it('refuses while no stand is connected, and says that Stop did not arrive', async () => {
    const shop = await connectedShop();
    await shop.answer(shop.session.arm());
    await shop.answer(shop.session.start());
    shop.binding.unplug();
    await shop.until(() => shop.session.view().link.condition === 'lost');
    const stopped = await shop.answer(shop.session.stop());
    expect(stopped).toMatchObject({
      problem: { code: 'disconnected', message: expect.stringMatching(/could not reach it/) },
    });
    expect(code(await shop.session.start())).toBe('disconnected');
    await shop.until(() => shop.phase === 'finished');
    expect(await shop.session.arm()).toMatchObject({
      problem: {
        code: 'disconnected',
        message: expect.stringMatching(/Nothing was armed.*no port emulated now/),
      },
    });
    expect(code(await shop.session.stop())).toBe('ok'); // nothing is under way that could turn
    expect(code(await shop.session.abort())).toBe('no-run');
  });

  it('does not start with the stop button pressed, and says so', async () => {
    const shop = await connectedShop();
    await shop.answer(shop.session.arm());
    shop.drill.pressStop();
    await shop.pass(0.2);
    expect(await shop.answer(shop.session.start())).toMatchObject({
      problem: { code: 'refused', message: expect.stringMatching(/stop button is pressed/) },
    });
    shop.drill.releaseStop();
    await shop.pass(0.2);
    expect(code(await shop.answer(shop.session.start()))).toBe('ok');
  });

  it('does not arm with the stop button pressed: the run ends as refused', async () => {
    const shop = await connectedShop();
    shop.drill.pressStop();
    await shop.pass(0.2);
    expect(await shop.answer(shop.session.arm())).toMatchObject({
      problem: { code: 'refused', message: expect.stringMatching(/stop button is pressed/) },
    });
    expect(shop.session.view().run.figures.outcome).toBe('refused');
  });

  it('lets a hand turn the wheel as well', async () => {
    const shop = await connectedShop({ scenario: byHand, plan: { turns: 4 } });
    await shop.answer(shop.session.arm());
    expect(code(await shop.answer(shop.session.start()))).toBe('ok');
    shop.drill.turnByHand();
    await shop.until(() => shop.phase === 'finished');
    expect(shop.session.view().run.figures.outcome).toBe('complete');
    expect(shop.stand.board.motor).toBe(false);
  });

  it('arms nothing when Stop was pressed while the records were asked which calibration the run belongs to', async () => {
    let tell = (_id: string) => {};
    const desk = {
      forRun: () =>
        new Promise<string>((resolve) => {
          tell = resolve;
        }),
      runClosed: async () => {},
    };
    const shop = await connectedShop({ desk });
    const arming = shop.session.arm();
    await shop.answer(shop.session.stop());
    tell('some calibration');
    expect(await shop.answer(arming)).toMatchObject({ problem: { code: 'not-ready' } });
    expect(shop.session.view().run.id).toBe(null);
  });
});
