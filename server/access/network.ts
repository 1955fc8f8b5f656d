import { hostname, networkInterfaces } from 'node:os';
import { isNearby } from './nearby.ts';

/** What this computer is called on the shop network, in small letters: by its own name, by that name in multicast DNS, and as people told us. */
export function machineNames(told: readonly string[]): string[] {
  const own = hostname().toLowerCase();
  const names = own === '' || own === 'localhost' ? [] : [own, `${own}.local`];
  return [...new Set([...names, ...told.map((name) => name.toLowerCase())])];
}

/** Addresses under which others in the shop reach this computer. */
export function shopAddresses(): string[] {
  return Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(({ family, internal, address }) => family === 'IPv4' && !internal && isNearby(address))
    .map(({ address }) => address);
}
