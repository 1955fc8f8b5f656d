import { createServer, isIPv6 } from 'node:net';
import { hostname, networkInterfaces } from 'node:os';
import { isNearby, sameLink } from './nearby.ts';

/** What this computer is called on the shop network, in small letters: by its own name, by that name in multicast DNS, and as people told us. */
export function machineNames(told: readonly string[]): string[] {
  const own = hostname().toLowerCase();
  const names = own === '' || own === 'localhost' ? [] : [own, `${own}.local`];
  return [...new Set([...names, ...told.map((name) => name.toLowerCase())])];
}

type Interfaces = ReturnType<typeof networkInterfaces>;

/** The first of each link: a computer gives itself several addresses there, and changes all but the first day by day (RFC 8981). */
function onePerLink(addresses: readonly string[]): string[] {
  return addresses.filter((address, index) => addresses.findIndex((one) => sameLink(one, address)) === index);
}

/**
 * Addresses under which others in the shop reach this computer, those that are shorter to type first. Link-local ones of IPv6 are left out: their zone
 * has no place in the address line of a browser.
 */
export function shopAddresses(interfaces: Interfaces = networkInterfaces()): string[] {
  const outside = Object.values(interfaces)
    .flatMap((addresses) => addresses ?? [])
    .filter(({ internal }) => !internal);
  const four = outside.filter(({ family, address }) => family === 'IPv4' && isNearby(address));
  const six = outside.filter(({ family, address }) => family === 'IPv6' && !/^fe[89ab]/i.test(address));
  const addressOf = ({ address }: { address: string }) => address;
  return [...four.map(addressOf), ...onePerLink(six.map(addressOf))];
}

/** An address as it stands in a URL: one of IPv6 in brackets (RFC 3986, 3.2.2). */
export const inUrl = (address: string): string => (isIPv6(address) ? `[${address}]` : address);

/** What to listen on for every address of this computer: of IPv6 and IPv4 alike where it has IPv6, else of IPv4 alone. */
export function everyAddress(): Promise<'::' | '0.0.0.0'> {
  return new Promise((resolve) => {
    const trial = createServer();
    trial.once('error', () => resolve('0.0.0.0'));
    trial.listen({ host: '::', port: 0 }, () => trial.close(() => resolve('::')));
  });
}
