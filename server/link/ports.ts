import { accessSync, constants } from 'node:fs';
import { readdir, realpath } from 'node:fs/promises';
import { delimiter, join } from 'node:path';
import { SerialPort } from 'serialport';

/** A port that someone may choose. Any other path may be typed: pseudo-terminals, for one, are never listed. */
export interface PortChoice {
  /** What to open; stays the same over unplugging where the system has such a name. */
  path: string;
  /** For people: maker and name where known. */
  label: string;
}

/** The parts of a Linux system that listing looks at; tests hand in their own. */
export interface LinuxPlaces {
  deviceFolder: string;
  searchPath: string;
}

const linuxPlaces = (): LinuxPlaces => ({ deviceFolder: '/dev', searchPath: process.env.PATH ?? '' });

interface Described {
  path: string;
  manufacturer?: string | undefined;
  pnpId?: string | undefined;
  vendorId?: string | undefined;
}

/** Ports of USB devices on this machine. Rejects only where the system's own listing fails. */
export async function listPorts(): Promise<PortChoice[]> {
  if (process.platform === 'linux') return listLinuxPorts(linuxPlaces(), () => SerialPort.list());
  const ports: Described[] = await SerialPort.list();
  return ports.filter((port) => port.vendorId !== undefined).map((port) => choiceOf(port, port.path));
}

/**
 * As `listPorts`, on Linux. The driver's own listing is asked only where `udevadm` is there: without it the driver ends the whole
 * process. Without it the device folder tells the same names, if less about them.
 */
export async function listLinuxPorts(
  places: LinuxPlaces,
  askDriver: () => Promise<Described[]>,
): Promise<PortChoice[]> {
  const nodes = await readdir(places.deviceFolder).catch((): string[] => []);
  const usb = nodes.filter((name) => /^tty(USB|ACM)\d+$/.test(name)).sort();
  if (usb.length === 0) return [];
  const lasting = await lastingNames(join(places.deviceFolder, 'serial', 'by-id'));
  const described = hasProgram('udevadm', places.searchPath) ? await askDriver().catch(() => []) : [];
  return usb.map((name) => {
    const path = join(places.deviceFolder, name);
    const known = described.find((port) => port.path === path) ?? { path };
    return choiceOf(known, lasting.get(path) ?? path);
  });
}

function choiceOf(port: Described, path: string): PortChoice {
  const name = port.pnpId ?? path.split('/').at(-1) ?? path;
  const words = [port.path.split('/').at(-1), port.manufacturer, name].filter((word) => word);
  return { path, label: [...new Set(words)].join(' · ') };
}

/** Names under /dev/serial/by-id stay with a device; the kernel's numbers change when it is plugged in again. */
async function lastingNames(folder: string): Promise<Map<string, string>> {
  const names = new Map<string, string>();
  for (const name of await readdir(folder).catch((): string[] => [])) {
    const link = join(folder, name);
    const target = await realpath(link).catch(() => null);
    if (target !== null) names.set(target, link);
  }
  return names;
}

function hasProgram(name: string, searchPath: string): boolean {
  return searchPath.split(delimiter).some((folder) => {
    try {
      accessSync(join(folder, name), constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });
}
