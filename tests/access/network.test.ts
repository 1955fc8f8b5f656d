import { connect, createServer } from 'node:net';
import { describe, expect, it } from 'vitest';
import { isLoopback, isNearby, plainAddress } from '../../server/access/nearby.ts';
import { everyAddress, inUrl, shopAddresses } from '../../server/access/network.ts';

/** Addresses of this computer and of those who call it. Examples of the internet: RFC 5737, RFC 3849. */

const four = (address: string, internal = false) => ({
  address,
  internal,
  family: 'IPv4' as const,
  netmask: '255.255.255.0',
  mac: '00:00:5e:00:53:01',
  cidr: null,
});
const six = (address: string, scopeid = 0, internal = false) => ({
  ...{ address, internal, scopeid, family: 'IPv6' as const },
  ...{ netmask: 'ffff:ffff:ffff:ffff::', mac: '00:00:5e:00:53:01', cidr: null },
});

describe('addresses shown to the shop', () => {
  it('are those that a browser there can use, the shorter ones first', () => {
    const interfaces = {
      lo: [four('127.0.0.1', true), six('::1', 0, true)],
      eth0: [six('fe80::2', 4), six('fd00::2'), four('192.168.1.2')],
      wan: [four('192.0.2.7')],
    };
    expect(shopAddresses(interfaces)).toEqual(['192.168.1.2', 'fd00::2']);
  });

  it('name one of the many that IPv6 gives a computer on one link', () => {
    const eth0 = [six('2001:db8:0:1::2'), six('2001:db8:0:1:9:8:7:6'), six('2001:db8:0:2::2')];
    expect(shopAddresses({ eth0 })).toEqual(['2001:db8:0:1::2', '2001:db8:0:2::2']);
  });

  it('stand in brackets in a URL where they are of IPv6 (RFC 3986, 3.2.2)', () => {
    expect(new URL(`http://${inUrl('fd00::2')}:8321`).port).toBe('8321');
    expect(inUrl('192.168.1.2')).toBe('192.168.1.2');
  });
});

describe('an address on a connection', () => {
  it('is plain without the marks that sockets put on it', () => {
    expect(plainAddress('::ffff:192.168.1.2')).toBe('192.168.1.2');
    expect(plainAddress('fe80::7%eth0')).toBe('fe80::7');
    expect(plainAddress('::ffff:0:1')).toBe('::ffff:0:1');
    expect(plainAddress(undefined)).toBe('');
  });

  it('is this computer’s own by IPv6 as by IPv4', () => {
    expect(['::1', '127.0.0.1', '127.8.8.8', '::ffff:127.0.0.1'].map(isLoopback)).not.toContain(false);
    expect(['::', '::2', '1::1', '192.168.1.1', ''].map(isLoopback)).not.toContain(true);
  });

  it('of the internet is nearby on this computer’s own link alone', () => {
    expect(isNearby('2001:db8:0:1::7', '2001:db8:0:1::2')).toBe(true);
    expect(isNearby('2001:db8:0:1:ffff::7', '2001:db8:0:1::2')).toBe(true);
    expect(isNearby('2001:db8:0:2::7', '2001:db8:0:1::2')).toBe(false);
    expect(isNearby('2001:db8:0:1::7')).toBe(false);
    expect(isNearby('192.0.2.7', '192.0.2.8')).toBe(false);
    expect(isNearby('no address', 'fd00::2')).toBe(false);
  });
});

describe('listening on every address', () => {
  it('hears IPv4, and IPv6 where this computer has it', async () => {
    const host = await everyAddress();
    const server = createServer((socket) => socket.end(socket.remoteAddress ?? ''));
    await new Promise<void>((resolve) => server.listen({ host, port: 0 }, resolve));
    const { port, family } = server.address() as { port: number; family: string };
    expect([host, family]).toEqual(host === '::' ? ['::', 'IPv6'] : ['0.0.0.0', 'IPv4']);
    const told = (to: string) =>
      new Promise<string>((resolve) => {
        connect(port, to).once('data', (data) => resolve(String(data)));
      });
    expect(plainAddress(await told('127.0.0.1'))).toBe('127.0.0.1');
    if (host === '::') expect(await told('::1')).toBe('::1');
    server.close();
  });
});
