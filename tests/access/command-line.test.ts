import { describe, expect, it } from 'vitest';
import { readCommand, UsageError, usage } from '../../server/command-line.ts';

const reaching = (args: string[], environment: NodeJS.ProcessEnv = {}) => {
  const command = readCommand(['start', ...args], environment);
  return command.command === 'help' ? null : command.reaching;
};

describe('who is let in, on the command line', () => {
  it('is this computer alone unless it is asked otherwise', () => {
    expect(reaching([])).toEqual({ lan: false, pairAs: 'operate', names: [], tls: null });
    expect(reaching([], { CATCHBENCH_LAN: '' })!.lan).toBe(false);
    expect(reaching([], { CATCHBENCH_LAN: '0' })!.lan).toBe(false);
  });

  it('is the shop network with --lan or CATCHBENCH_LAN, in the demo too', () => {
    expect(reaching(['--lan'])!.lan).toBe(true);
    expect(reaching([], { CATCHBENCH_LAN: '1' })!.lan).toBe(true);
    expect(readCommand(['demo', '--lan'], {})).toMatchObject({ command: 'demo', reaching: { lan: true } });
  });

  it('may be given a role, names, and a certificate', () => {
    const args = [
      '--lan',
      '--pair-as',
      'watch',
      '--name',
      'shop.local',
      '--name',
      'bench',
      '--cert',
      'c',
      '--key',
      'k',
    ];
    expect(reaching(args)).toEqual({
      lan: true,
      pairAs: 'watch',
      names: ['shop.local', 'bench'],
      tls: { cert: 'c', key: 'k' },
    });
    expect(reaching(['--cert', 'c', '--key', 'k'])).toMatchObject({
      lan: false,
      tls: { cert: 'c', key: 'k' },
    });
  });

  it.each([
    [['--lan', '--pair-as', 'king'], {}, /--pair-as takes watch, operate or manage, not "king"/],
    [['--pair-as', 'watch'], {}, /--pair-as and --name go with --lan/],
    [['--name', 'x'], {}, /go with --lan/],
    [['--lan', '--name', 'http://x'], {}, /not "http:\/\/x"/],
    [['--lan', '--name', '*'], {}, /not "\*"/],
    [['--cert', 'c'], {}, /--cert and --key go together/],
    [['--key', 'k'], {}, /--cert and --key go together/],
    [[], { CATCHBENCH_LAN: 'yes' }, /CATCHBENCH_LAN is 1 or is not set; it is "yes"/],
  ])('%o %o is refused in a sentence', (args, environment, sentence) => {
    expect(() => reaching(args, environment)).toThrow(UsageError);
    expect(() => reaching(args, environment)).toThrow(sentence);
  });

  it('is explained', () => {
    for (const word of ['--lan', '--pair-as', '--name', '--cert', '--key', 'CATCHBENCH_LAN'])
      expect(usage).toContain(word);
  });
});
