import { setTimeout as pause } from 'node:timers/promises';
import type { Drill } from '../../firmware-sim/drill/drill.ts';
import { drawScenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../firmware-sim/emulated.ts';
import { type Pace, pace } from '../../firmware-sim/stand.ts';
import { systemClock } from '../../server/clock.ts';
import { driverPort } from '../../server/link/port-factory.ts';
import { Session } from '../../server/run/session.ts';
import { replay } from '../../server/run/session-replay.ts';
import type { RunFigures } from '../../server/run/types.ts';
import type { FarEnd } from '../link/fake-cable.ts';
import { Terminal } from '../link/terminal.ts';
import { planFor } from '../run/imagined.ts';
import { MemoryRecords } from '../session/memory-records.ts';

/** Pulls the cable of an emulated stand, on a pseudo-terminal through the real serial driver, at random moments of runs. */

export interface PullReport {
  pulls: number;
  runs: number;
  /** Pulls by what the run was at, and runs by how they ended. */
  phases: Record<string, number>;
  outcomes: Record<string, number>;
  /** Milliseconds from the cable going in until the stand is connected, in order of size. */
  recoveryMillis: number[];
  /** Whatever must not be, as sentences. */
  wrongs: string[];
}

interface Pull {
  phase: string;
  /** Milliseconds without a connection, from the pull on. */
  outMillis: number;
  /** The wheel was turning, by the run, when the stand was heard again or was until shortly before. */
  turningAfter: boolean;
}

/** Longest that a cable is out, milliseconds, and most time between two pulls. */
const longestOut = 3000;
const longestIn = 6000;
const turns = 5;

class Bench {
  readonly #drill: Drill;
  readonly #terminal: Terminal;
  readonly #session: Session;
  readonly #records = new MemoryRecords();
  readonly #pace: Pace;
  readonly #byHand: boolean;
  readonly #random: () => number;
  readonly #report: PullReport;

  constructor(seed: number, random: () => number, report: PullReport) {
    this.#byHand = seed % 2 === 1;
    this.#random = random;
    this.#report = report;
    const scenario = this.#byHand ? byHand : oneRow;
    const { stand, drill } = createEmulatedStand(drawScenario(scenario, seed), seed);
    this.#drill = drill;
    const farEnd: FarEnd = { onText: () => {}, receive: (bytes) => void stand.write(bytes) };
    stand.onBytes((bytes) => farEnd.onText(Buffer.from(bytes).toString('latin1')));
    this.#terminal = new Terminal(farEnd);
    this.#pace = pace(stand);
    this.#session = new Session({
      clock: systemClock,
      link: { createPort: driverPort, listPorts: async () => [], path: this.#terminal.path },
      records: this.#records,
      demo: true,
      plan: { ...planFor(scenario), turns },
    });
  }

  async open(): Promise<void> {
    await this.#terminal.plug();
    this.#session.open();
    await this.#until(() => this.#connected);
  }

  async close(): Promise<void> {
    await this.#session.shut();
    await this.#pace.stop();
    await this.#terminal.remove();
  }

  /** One run with pulls in it, the last one over before it returns; the number of pulls is at most `most`. */
  async run(most: number): Promise<number> {
    const pulls: Pull[] = [];
    let over = false;
    const pulling = (async () => {
      while (!over && pulls.length < most) {
        // A tare begins anew after every pull: most wait until the wheel turns.
        const early = this.#random() < 0.2;
        await this.#until(() => early || over || ['turning', 'settling'].includes(this.#figures.phase));
        await pause(this.#random() * longestIn);
        if (!over) pulls.push(await this.#pull());
      }
    })();
    const figures = await this.#oneRun();
    over = true;
    await pulling;
    this.#report.runs++;
    count(this.#report.outcomes, String(figures.outcome));
    for (const pull of pulls) count(this.#report.phases, pull.phase);
    this.#checkFlags(figures, pulls);
    return pulls.length;
  }

  async #pull(): Promise<Pull> {
    const { phase } = this.#figures;
    const from = performance.now();
    await this.#terminal.unplug();
    await pause(this.#random() * longestOut);
    await this.#terminal.plug();
    const plugged = performance.now();
    await this.#until(() => this.#connected);
    this.#report.recoveryMillis.push(performance.now() - plugged);
    this.#report.pulls++;
    await pause(100);
    const turningAfter = ['turning', 'settling'].includes(this.#figures.phase);
    return { phase, outMillis: performance.now() - 100 - from, turningAfter };
  }

  async #oneRun(): Promise<RunFigures> {
    this.#drill.emptyBags();
    await this.#until(async () => this.#connected && (await this.#session.arm()).ok);
    let [fromTurns, fromGrams] = [0, 0];
    await this.#until(async () => {
      if (this.#figures.phase !== 'ready') return this.#figures.phase !== 'taring';
      [fromTurns, fromGrams] = [this.#drill.truth.turns(), this.#drill.truth.gramsCaught()];
      await this.#session.start();
      return !['taring', 'ready'].includes(this.#figures.phase);
    });
    if (this.#byHand) this.#drill.turnByHand();
    await this.#until(() => this.#figures.phase === 'finished');
    const { id } = this.#session.view().run;
    const figures = this.#figures;
    const { truth } = this.#drill;
    this.#expect(
      Math.abs(figures.turnsDone - (truth.turns() - fromTurns)) < 0.1,
      `${figures.turnsDone} turns where ${truth.turns() - fromTurns} were made`,
    );
    const off = Math.abs(figures.grams! - (truth.gramsCaught() - fromGrams));
    this.#expect(off < 5 * figures.gramsDoubt! + 0.15, `grams off by ${off}: ${figures.sentence}`);
    const again = replay(await this.#records.journal(id!, 0, 1e6));
    this.#expect(JSON.stringify(again.figures) === JSON.stringify(figures), 'the replay differs');
    return figures;
  }

  /** By hand the board goes on whatever happens; by motor it stops within a second of silence, and neither sooner nor later. */
  #checkFlags(figures: RunFigures, pulls: Pull[]): void {
    const inRun = pulls.filter(({ phase }) => phase === 'turning');
    const bridged = pulls.filter(
      ({ phase, turningAfter }) => ['turning', 'settling'].includes(phase) && turningAfter,
    );
    const { outcome, gaps, sentence } = figures;
    const told = `${outcome}, pulls ${JSON.stringify(pulls)}, gaps ${JSON.stringify(gaps)}: ${sentence}`;
    const cable = gaps.filter(({ cause }) => cause === 'cable').length;
    this.#expect(cable >= bridged.length, `a pull in the run is not marked: ${told}`);
    this.#expect(cable <= pulls.length, `more marked than was pulled: ${told}`);
    if (outcome === 'host-silent') {
      this.#expect(
        !this.#byHand && pulls.some(({ outMillis }) => outMillis > 850),
        `stopped for no reason: ${told}`,
      );
    } else this.#expect(outcome === 'complete', `ended otherwise: ${told}`);
    const long = inRun.some(({ outMillis, turningAfter }) => turningAfter && outMillis > 1600);
    // A motor run pulled at its very end may have made its count within the second.
    this.#expect(
      this.#byHand || !long || outcome === 'host-silent' || figures.turnsToGo === 0,
      `ran on: ${told}`,
    );
  }

  get #connected(): boolean {
    return this.#session.view().link.board !== null;
  }

  get #figures(): RunFigures {
    return this.#session.view().run.figures as RunFigures;
  }

  #expect(fine: boolean, sentence: string): void {
    if (!fine && this.#report.wrongs.length < 20) this.#report.wrongs.push(sentence);
  }

  async #until(done: () => boolean | Promise<boolean>): Promise<void> {
    while (!(await done())) await pause(5);
  }
}

function count(counts: Record<string, number>, key: string): void {
  counts[key] = (counts[key] ?? 0) + 1;
}

/** So many pulls, on `benches` stands side by side, every other one turned by hand. */
export async function pullCampaign(
  pulls: number,
  benches: number,
  random: () => number,
): Promise<PullReport> {
  const report: PullReport = { pulls: 0, runs: 0, phases: {}, outcomes: {}, recoveryMillis: [], wrongs: [] };
  const each = Math.ceil(pulls / benches);
  const work = async (seed: number): Promise<void> => {
    const bench = new Bench(seed, random, report);
    await bench.open();
    for (let done = 0; done < each; ) done += await bench.run(each - done);
    await bench.close();
  };
  await Promise.all(Array.from({ length: benches }, (_, seed) => work(seed)));
  report.recoveryMillis.sort((one, other) => one - other);
  return report;
}
