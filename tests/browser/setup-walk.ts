import type { Locator, Page } from 'playwright-core';
import { firstPlan } from '../../server/first-plan.ts';
import { type FakeServer, startFake } from '../web/fake-server.ts';
import { FakeSession } from '../web/fake-session.ts';
import { figuresOf, shareAt } from '../web/invented.ts';

/** Someone new at the page, whose every deliberate action is counted: a press, a field filled in, a choice. */
export class Newcomer {
  readonly page: Page;
  readonly done: string[] = [];

  constructor(page: Page) {
    this.page = page;
  }

  get count(): number {
    return this.done.length;
  }

  async press(what: Locator, name: string): Promise<void> {
    await what.click({ timeout: 20_000 });
    this.done.push(`press ${name}`);
  }

  async fill(id: string, typed: string): Promise<void> {
    await this.page.fill(`#${id}`, typed);
    this.done.push(`fill ${id}: ${typed}`);
  }
}

/** A stand that makes a run in no time: readied, it is ready; started, the wheel has turned and the catch is on record. */
export async function startQuickStand(): Promise<FakeServer> {
  const session = new FakeSession();
  session.plan = structuredClone(firstPlan);
  session.run = { id: null, plan: session.plan, figures: figuresOf(session.plan, 'idle', 0) };
  const server = await startFake({ session, toConfirm: true });
  session.arm = async () => {
    session.asked.push('arm');
    session.begin(`run-${session.asked.length}`, 'ready');
    return { ok: true, value: session.run };
  };
  session.start = async () => {
    session.asked.push('start');
    const { plan } = session.run;
    const mark = Number(plan.drill.setting);
    session.show(figuresOf(plan, 'turning', 3, shareAt(mark)));
    await server.standRun(mark);
    session.show(figuresOf(plan, 'finished', plan.turns, shareAt(mark)));
    return { ok: true, value: session.run };
  };
  return server;
}
