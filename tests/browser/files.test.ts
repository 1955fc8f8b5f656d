import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { madeRun } from '../records/made-runs.ts';
import { type FakeServer, startFake } from '../web/fake-server.ts';
import { openBrowser, openPage, type Watched } from './chromium.ts';
import { soon } from './soon.ts';

/** Files that leave the records and come back: one shop, and what happens in it in turn. */
describe.runIf(needs('chromium'))('files of the records', () => {
  let browser: Browser;
  let server: FakeServer;
  let watched: Watched;
  let page: Page;
  let backup: string;

  beforeAll(async () => {
    browser = await openBrowser();
    server = await startFake();
    watched = await openPage(browser, server.address);
    page = watched.page;
  });
  afterAll(async () => {
    await browser.close();
    await server.close();
  });

  /** Opens the place for files anew. */
  async function keeping(): Promise<void> {
    await page.goto(`${server.address}/#/runs/keeping`);
    await page.reload();
    await page.getByRole('heading', { name: 'Backups', exact: true }).waitFor();
  }

  /** Follows a link that saves a file; where the file lies. */
  async function saved(link: string | RegExp): Promise<string> {
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: link }).first().click(),
    ]);
    return file.path();
  }

  async function onRecord(): Promise<string[]> {
    const answer = await fetch(`${server.address}/api/records/run`);
    const { items } = (await answer.json()) as { items: { id: string }[] };
    return items.map(({ id }) => id).sort();
  }

  /** A run that the disk would not take. */
  async function unsaved(seed: number): Promise<string> {
    const { run, end, journal } = await madeRun(seed);
    server.unsaved.splice(0, server.unsaved.length, { run, end, pending: journal });
    await keeping();
    return run.id;
  }

  const told = () => page.locator('#import-told').textContent();
  const upload = (field: string, path: string, name: string) =>
    page.setInputFiles(field, { name, mimeType: 'application/octet-stream', buffer: readFileSync(path) });

  it('offers a run that is in memory alone, and takes it in once there is room', async () => {
    const id = await unsaved(1);
    await page.getByRole('heading', { name: 'Runs that are in memory alone' }).waitFor();
    const file = await saved('Save them now');
    server.unsaved.length = 0;
    await keeping();
    expect(await page.getByRole('heading', { name: 'Runs that are in memory alone' }).count()).toBe(0);
    await upload('#import-file', file, 'unsaved.json');
    await soon(told).toMatch(/^One new run/);
    expect(await onRecord()).toEqual([id]);
  });

  it('finds nothing new in what it has itself written, and says what is no export', async () => {
    const file = await saved('Save as JSON');
    await upload('#import-file', file, 'export.json');
    await soon(told).toMatch(/^No new runs.*one was there already/);
    await page.setInputFiles('#import-file', {
      name: 'letter.json',
      mimeType: 'application/json',
      buffer: Buffer.from('Dear sir'),
    });
    await page.getByText('it is no JSON, or it was cut short').waitFor();
  });

  it('puts a backup that was kept elsewhere in the place of everything, and takes in again what came after', async () => {
    const before = await onRecord();
    await page.getByRole('button', { name: 'Make a backup' }).click();
    backup = await saved(/^Save elsewhere/);
    const later = await unsaved(2);
    await upload('#import-file', await saved('Save them now'), 'unsaved.json');
    await soon(told).toMatch(/^One new run/);
    expect(await onRecord()).toEqual([...before, later].sort());
    const all = await saved('Save as JSON');

    await page.getByRole('button', { name: /^Throw away/ }).click();
    await page.getByRole('button', { name: 'Throw away' }).last().click();
    await page.getByText('There are no backups yet').waitFor();
    await upload('#backup-file', backup, 'kept.db');
    await page.getByRole('button', { name: /^Restore/ }).click();
    await page.getByRole('button', { name: 'Restore' }).last().click();
    await page.getByText('The records are those of the backup now').waitFor();
    expect(await onRecord()).toEqual(before);

    await upload('#import-file', all, 'export.json');
    await soon(told).toMatch(/^One new run.*one was there already/);
    expect(await onRecord()).toEqual([...before, later].sort());
    expect(watched.outside).toEqual([]);
  });
});
