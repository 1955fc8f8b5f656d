import { describe, expect, it } from 'vitest';
import { mayOpen } from '../../server/browser.ts';

describe('opening a browser for the demo', () => {
  it.each([
    [{ DISPLAY: ':0' }, 'linux', true],
    [{ WAYLAND_DISPLAY: 'wayland-0' }, 'linux', true],
    [{}, 'linux', false],
    [{}, 'darwin', true],
    [{}, 'win32', true],
    [{ CI: 'true', DISPLAY: ':0' }, 'linux', false],
    [{ CATCHBENCH_NO_OPEN: '1' }, 'darwin', false],
  ] as const)('%o on %s: %s', (environment, platform, may) => {
    expect(mayOpen(environment, platform)).toBe(may);
  });
});
