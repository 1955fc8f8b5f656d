import type { IncomingHttpHeaders } from 'node:http';

/**
 * Keeps other web sites away from a service that listens on this computer alone. A name that an attacker points at 127.0.0.1 arrives
 * with that name in Host (DNS rebinding); a page of another site arrives with its own address in Origin.
 */

const loopbackNames = new Set(['localhost', '127.0.0.1', '[::1]']);

/** Host name and port of a Host header, or null when it is none. */
function hostOf(header: string | undefined): URL | null {
  if (header === undefined || !/^[\w.:[\]-]+$/.test(header)) return null;
  return URL.canParse(`http://${header}`) ? new URL(`http://${header}`) : null;
}

/** Why a request with these headers is not served, or null when it is. */
export function whyTurnedAway(headers: IncomingHttpHeaders): string | null {
  const host = hostOf(headers.host);
  if (host === null || !loopbackNames.has(host.hostname)) {
    return 'Catchbench answers only to this computer: open it at http://localhost with its port.';
  }
  const { origin } = headers;
  if (origin !== undefined && origin.toLowerCase() !== `http://${host.host}`) {
    return 'This request comes from the page of another web site and was turned away.';
  }
  if (origin === undefined && headers['sec-fetch-site'] === 'cross-site') {
    return 'This request comes from another web site and was turned away.';
  }
  return null;
}
