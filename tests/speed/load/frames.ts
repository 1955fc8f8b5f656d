import { openBrowser } from '../../browser/chromium.ts';
import { type Figure, judged } from '../figures.ts';
import { programOf } from './processes.ts';
import { startService } from './stands.ts';

/** The page at 80 readings a second from six cells: seconds, ten minutes of them in the whole campaign. */
const secondsWatched = process.env.CATCHBENCH_WHOLE ? 600 : 60;

/** Runs in the page, as text since what compiles this file adds to functions: notes the time between frames as the browser paints them. */
const noteFrames = `
  window.framesSeen = { all: 0, slow: 0 };
  let last = performance.now();
  requestAnimationFrame(function note(now) {
    window.framesSeen.all += 1;
    if (now - last > 50) window.framesSeen.slow += 1;
    last = now;
    requestAnimationFrame(note);
  });
`;

const wait = (millis: number) => new Promise((resolve) => setTimeout(resolve, millis));

/** How smoothly the page paints while the wheel turns, and what its memory does meanwhile. */
export async function frames(): Promise<Figure[]> {
  const program = await programOf(new URL('./service.ts', import.meta.url));
  const stand = await startService(program, { turns: 2000 });
  const browser = await openBrowser();
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(`${stand.last().address}/#/run`);
  await wait(8000);
  const session = await page.context().newCDPSession(page);
  const heapMegabytes = async (): Promise<number> => {
    await session.send('HeapProfiler.collectGarbage');
    const { usedSize } = await session.send('Runtime.getHeapUsage');
    return usedSize / 1e6;
  };
  await page.evaluate(noteFrames);
  await wait((secondsWatched * 1000) / 4);
  const early = await heapMegabytes();
  await wait((secondsWatched * 1000 * 3) / 4);
  const late = await heapMegabytes();
  const { all, slow } = await page.evaluate<{ all: number; slow: number }>('window.framesSeen');
  const shown = await page.locator('[data-figure=turns]').textContent();
  await browser.close();
  await stand.stop();
  program.remove();
  const how = `${secondsWatched} s of a turning wheel, six cells, Run at 1440 x 900, Chromium without a graphics processor, ${all} frames, service and emulated stand on the same machine; turns shown at the end ${shown}`;
  return [
    judged({
      id: 'page-frames-over-50-ms',
      value: (100 * slow) / all,
      unit: '%',
      aim: '<= 1',
      how,
    }),
    judged({
      id: 'page-memory',
      value: late,
      unit: 'MB',
      reference: early,
      aim: '<= 1.1',
      how: `script memory after a collection at the end; reference: after a quarter of the time; ${how}`,
    }),
  ];
}
