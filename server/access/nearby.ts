import { BlockList, isIP } from 'node:net';

/** Addresses as they stand on a connection. */

const shopNetworks = new BlockList();
shopNetworks.addSubnet('10.0.0.0', 8);
shopNetworks.addSubnet('172.16.0.0', 12);
shopNetworks.addSubnet('192.168.0.0', 16);
shopNetworks.addSubnet('169.254.0.0', 16);
shopNetworks.addSubnet('fc00::', 7, 'ipv6');
shopNetworks.addSubnet('fe80::', 10, 'ipv6');

/** An address without the clothes of an IPv4 address on an IPv6 socket. */
export const plainAddress = (address: string | undefined): string => (address ?? '').replace(/^::ffff:/i, '');

export const isLoopback = (address: string | undefined): boolean =>
  /^(127\.|::1$)/.test(plainAddress(address));

/** Whether an address belongs to this computer or to a private network (RFC 1918, 3927, 4193, 4291): never to the internet. */
export function isNearby(address: string | undefined): boolean {
  const plain = plainAddress(address);
  const version = isIP(plain);
  return isLoopback(plain) || (version !== 0 && shopNetworks.check(plain, version === 6 ? 'ipv6' : 'ipv4'));
}
