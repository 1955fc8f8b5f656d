import { SerialPortStream } from '@serialport/stream';
import { SerialPort } from 'serialport';
import type { PortObject } from './port.ts';

/** A serialport binding: the driver itself, or a stand-in such as the emulated stand. */
export type Binding = ConstructorParameters<typeof SerialPortStream>[0]['binding'];

export const baudRate = 115_200;

/** Makes port objects, not yet open, on a binding. Hardware flow control off, as hardware-notes/protocol.md has it. */
export function portFactory(binding: Binding): (path: string) => PortObject {
  return (path) => new SerialPortStream({ binding, path, baudRate, autoOpen: false });
}

/**
 * Makes port objects on the machine's own serial driver. DTR stays up when the port closes, so that opening it again does not reset a
 * board that turns a wheel by hand.
 */
export function driverPort(path: string): PortObject {
  const port = new SerialPort({ path, baudRate, autoOpen: false, hupcl: false });
  port.once('open', () => void askLowLatency(port));
  return port;
}

/** USB adapters gather bytes for 16 ms unless told otherwise. Linux only, and pseudo-terminals refuse: no harm either way. */
async function askLowLatency(port: SerialPort): Promise<void> {
  if (process.platform !== 'linux') return;
  const lowLatency = { brk: false, cts: false, dtr: true, rts: true, lowLatency: true };
  await port.port?.set(lowLatency).catch(() => {});
}
