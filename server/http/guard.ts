import type { IncomingHttpHeaders } from 'node:http';
import { isLoopback, plainAddress } from '../access/nearby.ts';

/**
 * Keeps other web sites away. A name that an attacker points at this computer arrives with that name in Host (DNS rebinding); a page of another site
 * arrives with its own address in Origin, or with what the browser says of it in Sec-Fetch-Site.
 */

const loopbackNames = new Set(['localhost', '127.0.0.1', '[::1]']);

/** Where and by which names Catchbench may be called. */
export interface Reach {
  /** Whether it listens on the shop network too. */
  shared: boolean;
  /** Whether it speaks https and wss. */
  secure: boolean;
  /** Names of this computer on the shop network, in small letters. */
  names: readonly string[];
}

export const thisComputerAlone: Reach = { shared: false, secure: false, names: [] };

/** What is looked at of a request. */
export interface Caller {
  headers: IncomingHttpHeaders;
  method?: string | undefined;
  /** Path with query. */
  url?: string | undefined;
  /** Addresses of both ends of the connection. */
  socket: { localAddress?: string | undefined; remoteAddress?: string | undefined };
}

/** Host name and port of a Host header, or null when it is none. */
function hostOf(header: string | undefined): URL | null {
  if (header === undefined || !/^[\w.:[\]-]+$/.test(header)) return null;
  return URL.canParse(`http://${header}`) ? new URL(`http://${header}`) : null;
}

/** An address in a Host header cannot be made to point elsewhere: only names can. */
function isOurName(hostname: string, { socket }: Caller, { shared, names }: Reach): boolean {
  if (loopbackNames.has(hostname)) return true;
  if (!shared) return false;
  const address = plainAddress(socket.localAddress);
  return names.includes(hostname) || (address !== '' && [address, `[${address}]`].includes(hostname));
}

/** Someone follows a link to the page: nothing but the page itself is given, and it asks for all else in its own name. */
function followsLink({ headers, method, url }: Caller): boolean {
  const opens = headers['sec-fetch-mode'] === 'navigate' && headers['sec-fetch-dest'] === 'document';
  return opens && method === 'GET' && !(url ?? '').startsWith('/api');
}

/** Why a request is not served, or null when it is. */
export function whyTurnedAway(caller: Caller, reach: Reach): string | null {
  const { headers } = caller;
  const host = hostOf(headers.host);
  if (host === null || !isOurName(host.hostname, caller, reach)) {
    return reach.shared
      ? 'Catchbench does not answer to this name: open it by the address that it shows when it starts.'
      : 'Catchbench answers only to this computer: open it at http://localhost with its port.';
  }
  const { origin } = headers;
  // Of the header, not of the URL: that leaves a port out where it is the scheme's own.
  const own = `${reach.secure ? 'https' : 'http'}://${headers.host?.toLowerCase()}`;
  if (origin !== undefined && origin.toLowerCase() !== own) {
    return 'This request comes from the page of another web site and was turned away.';
  }
  const site = headers['sec-fetch-site'];
  if (origin === undefined && (site === 'cross-site' || site === 'same-site') && !followsLink(caller)) {
    return 'This request comes from another web site and was turned away.';
  }
  return null;
}

const forwarding = ['forwarded', 'x-forwarded-for', 'x-real-ip', 'via'];

/** Whether this computer itself asks, not someone through a proxy on it. */
export function isThisComputer({ headers, socket }: Caller): boolean {
  return isLoopback(socket.remoteAddress) && !forwarding.some((name) => headers[name] !== undefined);
}
