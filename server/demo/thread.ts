import { parentPort } from 'node:worker_threads';
import type { VisitRecords } from './visit.ts';
import { demoWeek } from './week.ts';

/** The week made in a thread of its own, part by part. */

export type WeekMessage = { part: VisitRecords } | { over: true };

for (const part of demoWeek()) parentPort?.postMessage({ part } satisfies WeekMessage);
parentPort?.postMessage({ over: true } satisfies WeekMessage);
