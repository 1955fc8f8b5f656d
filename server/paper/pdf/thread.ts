import { parentPort } from 'node:worker_threads';
import { drawPdf, type PrintJob } from './draw.ts';
import type { Drawn } from './press.ts';

/** What runs in the press's own thread. */

parentPort?.on('message', (job: PrintJob) => {
  const told = (drawn: Drawn) => parentPort?.postMessage(drawn);
  drawPdf(job).then(
    (bytes) => told({ bytes }),
    (error: Error) => told({ failure: `The sheet could not be drawn: ${error.message}` }),
  );
});
