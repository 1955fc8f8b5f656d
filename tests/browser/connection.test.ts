import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { startFake } from '../web/fake-server.ts';
import { FakeSession } from '../web/fake-session.ts';
import { figuresOf, plan, traceTo } from '../web/invented.ts';
import { soon } from './soon.ts';
import { withPage } from './with-page.ts';

/** What the page does when the server or the stand goes away. */
describe.runIf(needs('chromium'))('a connection that comes and goes', () => {
  const around = withPage();

  it('is named when the server goes, and mended by itself when it comes back', async () => {
    const { session } = around.server;
    session.begin('run-1');
    session.show(figuresOf(plan, 'turning', 12.4), traceTo(plan, 12.4));
    const { page } = await around.open();
    await page.locator('h1', { hasText: 'Turning' }).waitFor();
    const port = Number(new URL(around.server.address).port);
    await around.server.close();
    await page.locator('h1', { hasText: 'No connection' }).waitFor();
    expect(await page.locator('.banner').textContent()).toContain('stop button wired to the stand');
    expect(await page.locator('.run').getAttribute('class')).toContain('old');
    await page.getByText('Old figures: last heard').waitFor();

    await page.keyboard.press('Escape');
    await page.getByText('Stop did not get through').waitFor();

    const restarted = new FakeSession();
    restarted.startId = 'second-start';
    around.server = await startFake({ session: restarted, port });
    await page.locator('h1', { hasText: 'Standing by' }).waitFor();
    expect(await page.getByRole('alert').count(), 'what was said before the restart is gone').toBe(0);
  });

  it('greys the figures and says their age when the stand falls silent', async () => {
    const { session } = around.server;
    session.begin('run-1');
    session.show(figuresOf(plan, 'turning', 12.4));
    const { page } = await around.open();
    session.connect({
      condition: 'silent',
      ageMillis: 3100,
      sentence: 'The stand has not been heard for 3 s.',
    });
    await page.getByText('Old figures: last heard 3 s ago.').waitFor();
    expect(await page.locator('h1').textContent()).toBe('Stand silent');
    expect(await page.locator('.run').getAttribute('class')).toContain('old');
    session.connect({ condition: 'connected', ageMillis: 10, sentence: 'The stand is connected.' });
    await page.locator('h1', { hasText: 'Turning' }).waitFor();
    expect(await page.locator('.run').getAttribute('class')).not.toContain('old');
  });

  it('leads from a missing stand to the choice of a port', async () => {
    const { session } = around.server;
    session.connect({
      condition: 'searching',
      path: null,
      board: null,
      sentence: 'No serial port was found.',
    });
    const { page } = await around.open();
    expect(await page.locator('#acts').getByRole('button', { name: 'Get ready' }).isDisabled()).toBe(true);
    await page.getByRole('link', { name: 'Choose a port' }).click();
    await page.getByRole('button', { name: 'Use this port: /dev/ttyACM0' }).click();
    await soon(() => session.link.path).toBe('/dev/ttyACM0');
    expect(session.asked).toEqual(['choosePort']);
  });

  it('takes a typed path, and says beside it why not', async () => {
    const { session } = around.server;
    const { page } = await around.open('#/stand');
    await page.getByRole('button', { name: 'Connect' }).click();
    expect(await page.locator('#path-problem').textContent()).toBe('Write the path of the port first.');
    session.refuse.choosePort = { code: 'port', message: 'There is no port /dev/none.' };
    await page.fill('#path', '/dev/none');
    await page.keyboard.press('Enter');
    await soon(() => page.locator('#path-problem').textContent()).toBe('There is no port /dev/none.');
    expect(await page.inputValue('#path')).toBe('/dev/none');
  });

  it('marks the demo as one', async () => {
    around.server.session.demo = true;
    const { page } = await around.open();
    expect(await page.locator('.top .demo-mark').textContent()).toBe('Demo');
    expect(await page.locator('.demo-note').textContent()).toContain('nothing real turns');
  });
});
