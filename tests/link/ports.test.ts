import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listLinuxPorts, listPorts } from '../../server/link/ports.ts';

/** A device folder of our own making. */
describe('the list of ports on Linux', () => {
  let root: string;
  let deviceFolder: string;
  const searchPath = () => join(root, 'bin');
  const driverMustNotBeAsked = () => {
    throw new Error('asking the driver would end the process here');
  };

  beforeEach(() => {
    root = mkdtempSync(join(tmpdir(), 'ports-'));
    deviceFolder = join(root, 'dev');
    mkdirSync(join(deviceFolder, 'serial', 'by-id'), { recursive: true });
    mkdirSync(searchPath());
    for (const name of ['ttyUSB0', 'ttyACM3', 'ttyS0', 'tty1', 'ttyUSBx', 'null']) {
      writeFileSync(join(deviceFolder, name), '');
    }
    symlinkSync('../../ttyUSB0', join(deviceFolder, 'serial', 'by-id', 'usb-Maker_Adapter_A5-if00-port0'));
  });
  afterEach(() => rmSync(root, { recursive: true }));

  const udevadm = () => writeFileSync(join(searchPath(), 'udevadm'), '', { mode: 0o755 });

  it('without udevadm has the USB ports, by the name that lasts where there is one, and leaves the driver alone', async () => {
    const ports = await listLinuxPorts({ deviceFolder, searchPath: searchPath() }, driverMustNotBeAsked);
    expect(ports).toEqual([
      { path: join(deviceFolder, 'ttyACM3'), label: 'ttyACM3' },
      {
        path: join(deviceFolder, 'serial', 'by-id', 'usb-Maker_Adapter_A5-if00-port0'),
        label: 'ttyUSB0 · usb-Maker_Adapter_A5-if00-port0',
      },
    ]);
  });

  it('with udevadm knows the makers too', async () => {
    udevadm();
    const ports = await listLinuxPorts({ deviceFolder, searchPath: searchPath() }, async () => [
      { path: join(deviceFolder, 'ttyACM3'), manufacturer: 'Maker', pnpId: 'usb-Maker_Board-if00' },
      { path: join(deviceFolder, 'ttyS0') },
    ]);
    expect(ports[0]).toEqual({
      path: join(deviceFolder, 'ttyACM3'),
      label: 'ttyACM3 · Maker · usb-Maker_Board-if00',
    });
  });

  it('where udevadm fails has the ports all the same', async () => {
    udevadm();
    const ports = await listLinuxPorts({ deviceFolder, searchPath: searchPath() }, () =>
      Promise.reject(new Error('udevadm exited with error code: 1')),
    );
    expect(ports).toHaveLength(2);
  });

  it('is empty where there is no device folder at all', async () => {
    const nowhere = { deviceFolder: join(root, 'nowhere'), searchPath: '' };
    expect(await listLinuxPorts(nowhere, driverMustNotBeAsked)).toEqual([]);
  });

  it('can be had on this machine, with udevadm or without', async () => {
    expect(Array.isArray(await listPorts())).toBe(true);
    const { PATH } = process.env;
    process.env.PATH = '';
    try {
      expect(Array.isArray(await listPorts())).toBe(true);
    } finally {
      process.env.PATH = PATH;
    }
  });
});
