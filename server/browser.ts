import { spawn } from 'node:child_process';

/** Program and arguments that open an address in the user's browser. */
function opener(platform: NodeJS.Platform, address: string): [program: string, args: string[]] {
  if (platform === 'darwin') return ['open', [address]];
  if (platform === 'win32') return ['cmd', ['/c', 'start', '', address]];
  return ['xdg-open', [address]];
}

/** True where a browser may be opened: there is a screen, it is no automatic run, and nobody forbade it. */
export function mayOpen(environment: NodeJS.ProcessEnv, platform: NodeJS.Platform): boolean {
  if (environment.CATCHBENCH_NO_OPEN || environment.CI) return false;
  const hasScreen = Boolean(environment.DISPLAY || environment.WAYLAND_DISPLAY);
  return platform === 'darwin' || platform === 'win32' || hasScreen;
}

/** Opens the address in the user's browser where that can be done. A failure is no matter: the address is printed too. */
export function openBrowser(address: string): void {
  if (!mayOpen(process.env, process.platform)) return;
  const [program, args] = opener(process.platform, address);
  const browser = spawn(program, args, { stdio: 'ignore', detached: true });
  browser.once('error', () => {});
  browser.unref();
}
