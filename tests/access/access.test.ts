import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Access } from '../../server/access/access.ts';
import { mostEntries, readEntry } from '../../server/access/audit.ts';
import { accessFile } from '../../server/access/file.ts';
import { isNearby } from '../../server/access/nearby.ts';
import { machineNames } from '../../server/access/network.ts';
import { deviceName, mostSessions, type Session, withSession } from '../../server/access/sessions.ts';
import { hashToken } from '../../server/access/token.ts';
import { temporaryFolders } from '../records/folders.ts';

const newFolder = temporaryFolders();
const open = (folder: string, say: (words: string) => void = () => {}) =>
  Access.open({ shared: true, pairAs: 'operate', file: accessFile(folder), say });

async function letIn(access: Access, name = 'Tablet') {
  const offered = await access.offerCode('operate');
  if (!offered.ok) throw new Error('no code');
  const paired = await access.pair({ code: offered.value.code, name }, '192.168.1.20', null);
  if (!paired.ok) throw new Error(paired.refusal.code);
  return paired.value;
}

describe('what is kept on disk of who may come in', () => {
  it('is the hash of each secret, for nobody else to read, and no code', async () => {
    const folder = newFolder();
    const access = await open(folder);
    const { token } = await letIn(access);
    await access.close();
    const path = join(folder, 'paired.json');
    const text = readFileSync(path, 'utf8');
    expect(text).not.toContain(token);
    expect(text).toContain(hashToken(token));
    for (const file of [path, join(folder, 'audit.jsonl')]) expect(statSync(file).mode & 0o077).toBe(0);
    expect((await open(folder)).personWith(token)).toMatchObject({ name: 'Tablet', role: 'operate' });
  });

  it('lets nobody in where it was damaged; the next pairing mends it', async () => {
    for (const damage of ['', '{', 'null', '{"a":1}', '[{"id":1}]', '[{"role":"king"}]', '\u0000\u0001']) {
      const folder = newFolder();
      writeFileSync(join(folder, 'paired.json'), damage);
      const access = await open(folder);
      expect(access.sessions()).toEqual([]);
      const { token } = await letIn(access);
      await access.close();
      expect((await open(folder)).personWith(token)).not.toBeNull();
    }
  });

  it('forgets who was sent away at once, also when the program ends the next moment', async () => {
    const folder = newFolder();
    const access = await open(folder);
    const { token, person } = await letIn(access);
    await access.revoke(person.id);
    expect((await open(folder)).personWith(token)).toBeNull();
  });

  it('says so where the disk does not take it, and pairs all the same', async () => {
    const folder = newFolder();
    writeFileSync(join(folder, 'file'), '');
    const said: string[] = [];
    const access = await open(join(folder, 'file'), (words) => void said.push(words));
    const { token } = await letIn(access);
    expect(access.personWith(token)).not.toBeNull();
    expect(said.join()).toMatch(/could not be put on disk/);
  });
});

describe('the audit', () => {
  const note = (access: Access, act: string) =>
    access.note({ person: null, from: '192.168.1.20', act, outcome: 'done' });

  it('keeps the newest entries in memory, and no more than two files of half a megabyte', async () => {
    const folder = newFolder();
    const access = await open(folder);
    for (let entry = 0; entry < 12_000; entry++) note(access, `act ${entry} ${'x'.repeat(40)}`);
    await access.close();
    expect(access.entries()).toHaveLength(mostEntries);
    expect(access.entries().at(-1)!.act).toMatch(/^act 11999 /);
    const sizes = ['audit.jsonl', 'audit.1.jsonl'].map((name) => statSync(join(folder, name)).size);
    for (const size of sizes) expect(size).toBeLessThan(513 * 1024);
    const again = await open(folder);
    expect(again.entries().at(-1)!.act).toMatch(/^act 11999 /);
  });

  it('reads past a line that a crash cut off', async () => {
    const folder = newFolder();
    const access = await open(folder);
    note(access, 'one');
    await access.close();
    writeFileSync(join(folder, 'audit.jsonl'), `${readFileSync(join(folder, 'audit.jsonl'))}{"at":"2026-`);
    expect((await open(folder)).entries().map(({ act }) => act)).toEqual(['one']);
    expect(readEntry('[]')).toBeNull();
  });

  it('is not there before anything happened', async () => {
    const folder = newFolder();
    await (await open(folder)).close();
    expect(existsSync(join(folder, 'audit.jsonl'))).toBe(false);
  });
});

describe('devices', () => {
  const session = (id: number, seenAt: number): Session => ({
    id: String(id),
    name: 'x',
    role: 'watch',
    tokenHash: hashToken(String(id)),
    from: '',
    pairedAt: 0,
    seenAt,
  });

  it('are at most fifty: the one unseen longest goes', () => {
    let sessions: Session[] = [];
    for (let id = 0; id < 60; id++) sessions = withSession(sessions, session(id, id === 3 ? 1000 : id), 0);
    expect(sessions).toHaveLength(mostSessions);
    expect(sessions.some(({ id }) => id === '3')).toBe(true);
    expect(sessions.some(({ id }) => id === '4')).toBe(false);
  });

  it('have names of one line without signs that move the cursor or turn the text', () => {
    expect(deviceName('  Bench\r\n\ttablet  ')).toBe('Bench tablet');
    expect(deviceName('\u001b[31mred\u0007')).toBe('[31mred');
    expect(deviceName('a\u202eb')).toBe('a b');
    expect(deviceName('👩🏽‍🌾'.repeat(100))!.length).toBeLessThan(200);
    for (const nothing of ['', ' ', '\u200b', '\u0000']) expect(deviceName(nothing)).toBeNull();
  });
});

describe('the shop network', () => {
  // RFC 1918, section 3; RFC 3927; RFC 4193; RFC 5737 for addresses that belong to nobody.
  it.each([
    ['127.0.0.1', true],
    ['::1', true],
    ['10.255.255.255', true],
    ['172.16.0.1', true],
    ['172.31.255.255', true],
    ['192.168.0.1', true],
    ['169.254.10.10', true],
    ['::ffff:192.168.1.7', true],
    ['fd12:3456::1', true],
    ['fe80::1', true],
    ['172.32.0.1', false],
    ['192.169.0.1', false],
    ['11.0.0.1', false],
    ['203.0.113.7', false],
    ['::ffff:203.0.113.7', false],
    ['2001:db8::1', false],
    ['', false],
    ['nonsense', false],
  ])('%s: %s', (address, nearby) => {
    expect(isNearby(address)).toBe(nearby);
  });

  it('knows this computer by its own name and by those it was told', () => {
    expect(machineNames(['Shop.Local'])).toContain('shop.local');
    expect(machineNames([]).every((name) => name === name.toLowerCase())).toBe(true);
  });
});
