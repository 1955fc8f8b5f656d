import type { AddressInfo } from 'node:net';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { WebSocket } from 'ws';
import { drawScenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { Desk } from '../../server/calibration/desk.ts';
import { createApp } from '../../server/http/app.ts';
import { openRecords } from '../../server/records/open.ts';
import type { SqliteStore } from '../../server/records/store.ts';
import { verifyRun } from '../../server/records/verify.ts';
import { Shop } from '../session/shop.ts';
import { heldBytes } from './held.ts';

/** Run after run in one process: the real firmware on the emulated board, session, records on disk, routes, and a page that looks on. */

/** What one run came to. */
export interface SoakRun {
  outcome: string | null;
  /** Computed again from its readings on disk. */
  verdict: string;
  /** Turns shown less those that the wheel really made. */
  turnsWrong: number;
  /** Catch shown less what really fell into the bag, as a multiple of its stated doubt. */
  catchOff: number;
  /** The drill's true rate lies in the stated 95 % interval. */
  holds: boolean;
}

/** What the process holds after so many runs, all waste collected. */
export interface SoakLoad {
  runs: number;
  heapBytes: number;
  /** Objects alone, without what the engine has compiled. */
  heldBytes: number;
  /** Memory beside the heap: buffers, and what SQLite says it has. */
  externalBytes: number;
  /** Timers, sockets, ports and the like that keep the process going. */
  handles: number;
}

export interface Soak {
  runs: SoakRun[];
  loads: SoakLoad[];
  faults: string[];
  standSeconds: number;
  realSeconds: number;
}

const turns = 1;

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

async function loadAfter(runs: number): Promise<SoakLoad> {
  await new Promise((done) => setTimeout(done, 50));
  for (let round = 0; round < 3; round++) collect();
  const { heapUsed, external } = process.memoryUsage();
  const handles = process.getActiveResourcesInfo().length;
  return { runs, heapBytes: heapUsed, heldBytes: await heldBytes(), externalBytes: external, handles };
}

interface Place {
  shop: Shop;
  store: SqliteStore;
}

async function oneRun({ shop, store }: Place): Promise<SoakRun> {
  const { drill } = shop;
  drill.emptyBags();
  // Each setting of the lever, to the same mark too, has a delivery of its own.
  drill.setLever(drill.scenario.meter.setting);
  await shop.pass(1);
  const before = { grams: drill.truth.gramsCaught(), turns: drill.truth.turns() };
  await shop.answer(shop.session.arm());
  await shop.until(() => shop.phase === 'ready');
  await shop.answer(shop.session.start());
  await shop.until(() => shop.phase === 'finished');
  const { id, figures } = shop.session.view().run;
  await shop.until(() => shop.session.unsaved().length === 0);
  await store.settled();
  const { verdict } = await verifyRun(store, (await store.runs.find(id!))!);
  const really = {
    grams: drill.truth.gramsCaught() - before.grams,
    turns: drill.truth.turns() - before.turns,
  };
  const truth = drill.truth.rateGramsPerSquareMetre;
  const { rate, grams, gramsDoubt, turnsDone, outcome } = figures;
  return {
    outcome,
    verdict,
    turnsWrong: Math.abs(turnsDone - really.turns),
    catchOff: Math.abs(grams! - really.grams) / gramsDoubt!,
    holds: rate !== null && rate.low <= truth && truth <= rate.high,
  };
}

/** A page on the socket that hears everything and keeps nothing. */
async function lookOn(address: string): Promise<WebSocket> {
  const socket = new WebSocket(`ws://${address}/api/live`);
  socket.on('message', () => {});
  await new Promise((open) => socket.once('open', open));
  return socket;
}

/** Runs one after the other to the last of the `marks`, rising numbers of runs; after each the load is noted, and told. */
export async function soak(
  folder: string,
  marks: readonly number[],
  seed: number,
  noted: (load: SoakLoad, runs: readonly SoakRun[]) => void = () => {},
): Promise<Soak> {
  const began = performance.now();
  const store = await openRecords(folder);
  const desk = new Desk(store, true);
  const shop = new Shop({
    scenario: drawScenario(oneRow, seed),
    seed,
    records: store,
    desk,
    plan: { turns },
  });
  const faults: string[] = [];
  const report = (error: Error) => void faults.push(String(error.stack));
  const surroundings = { session: shop.session, records: store, store, desk };
  const app = await createApp({ ...surroundings, pageFolder: '/nowhere', version: '1.2.3', report });
  await app.listen({ port: 0, host: '127.0.0.1' });
  const page = await lookOn(`127.0.0.1:${(app.server.address() as AddressInfo).port}`);
  await shop.connected();
  const [runs, loads]: [SoakRun[], SoakLoad[]] = [[], []];
  while (runs.length < marks.at(-1)!) {
    runs.push(await oneRun({ shop, store }));
    if (!marks.includes(runs.length)) continue;
    loads.push(await loadAfter(runs.length));
    noted(loads.at(-1)!, runs);
  }
  const standSeconds = shop.stand.seconds;
  page.terminate();
  await shop.shut();
  await app.close();
  await store.shut();
  return { runs, loads, faults, standSeconds, realSeconds: (performance.now() - began) / 1000 };
}
