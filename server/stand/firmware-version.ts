/** Version of the firmware in `firmware-sim/firmware/catchbench-stand.hex`; a test compares it with the source. */
export const shippedFirmware = '1.1.0';

export const standings = ['same', 'older', 'newer'] as const;
/** A board's firmware beside the one that comes with this program. */
export type FirmwareStanding = (typeof standings)[number];

/** Parts of `a.b.c`, or null where it is none. */
function partsOf(version: string): number[] | null {
  return /^\d{1,5}\.\d{1,5}\.\d{1,5}$/.test(version) ? version.split('.').map(Number) : null;
}

/** How `firmware`, as in `1.0.0`, stands to `shipped`. What is no version is taken for older: flashing mends it. */
export function firmwareStanding(firmware: string, shipped = shippedFirmware): FirmwareStanding {
  const has = partsOf(firmware);
  const ours = partsOf(shipped);
  if (has === null || ours === null) return 'older';
  const at = has.findIndex((part, place) => part !== ours[place]);
  if (at < 0) return 'same';
  return has[at]! < ours[at]! ? 'older' : 'newer';
}
