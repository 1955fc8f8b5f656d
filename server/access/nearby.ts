import { BlockList, isIP } from 'node:net';

/** Addresses as they stand on a connection. */

const shopNetworks = new BlockList();
shopNetworks.addSubnet('10.0.0.0', 8);
shopNetworks.addSubnet('172.16.0.0', 12);
shopNetworks.addSubnet('192.168.0.0', 16);
shopNetworks.addSubnet('169.254.0.0', 16);
shopNetworks.addSubnet('fc00::', 7, 'ipv6');
shopNetworks.addSubnet('fe80::', 10, 'ipv6');

/** An address without the clothes of an IPv4 address on an IPv6 socket, and without the zone of a link-local one (RFC 4007, 11). */
export const plainAddress = (address: string | undefined): string =>
  (address ?? '').replace(/^::ffff:(?=\d+\.)/i, '').replace(/%.*$/, '');

export const isLoopback = (address: string | undefined): boolean =>
  /^(127\.|::1$)/.test(plainAddress(address));

/** Whether both IPv6 addresses name the same link: their first 64 bits, which are its prefix (RFC 4291, 2.5.4). */
export function sameLink(one: string, other: string): boolean {
  if (isIP(one) !== 6 || isIP(other) !== 6) return false;
  const link = new BlockList();
  link.addSubnet(one, 64, 'ipv6');
  return link.check(other, 'ipv6');
}

/**
 * Whether an address belongs to this computer or to a private network (RFC 1918, 3927, 4193, 4291): never to the internet. With IPv6 a shop's own
 * devices have addresses of the internet too: they are nearby where they lie on the link of `own`, this computer's end of the connection.
 */
export function isNearby(address: string | undefined, own?: string): boolean {
  const plain = plainAddress(address);
  const version = isIP(plain);
  if (isLoopback(plain)) return true;
  if (version === 0) return false;
  return shopNetworks.check(plain, version === 6 ? 'ipv6' : 'ipv4') || sameLink(plain, plainAddress(own));
}
