/** Why a port would not open or did not stay open, told from the operating system's words. */

export type TroubleKind =
  | 'busy' // another program holds the port
  | 'denied' // this user may not open it
  | 'missing' // no such port
  | 'no-port' // there is such a file, and it is no serial port
  | 'unplugged' // it was there and is gone
  | 'stuck' // it takes no more bytes, or would not finish opening
  | 'silent' // open, and the board said nothing for two seconds
  | 'failed'; // anything else

export interface Trouble {
  kind: TroubleKind;
  /** The driver's own words, for whoever has to look further. */
  detail: string;
}

const signs: readonly [RegExp, TroubleKind][] = [
  // Windows says "Access denied" of a port that another program holds; it has no other way to deny one.
  [/EBUSY|busy|cannot lock|temporarily unavailable|is locked|opening com\d+.*access.*denied/i, 'busy'],
  [/EACCES|EPERM|permission|access.*denied/i, 'denied'],
  [/did not finish opening/, 'stuck'],
  [/ENOTTY|EISDIR|inappropriate ioctl|is a directory/i, 'no-port'],
  [/ENOENT|ENODEV|ENXIO|no such|not found|does not exist|cannot find/i, 'missing'],
  [/EIO|EBADF|EPIPE|disconnected|unplugged|hang.?up|device not configured|input\/output error/i, 'unplugged'],
];

/** What kind of trouble an error of the serial driver is. `disconnected` marks a port that went away while open. */
export function troubleOf(error: unknown): Trouble {
  const detail = error instanceof Error ? error.message : String(error);
  if (error instanceof Error && 'disconnected' in error && error.disconnected === true) {
    return { kind: 'unplugged', detail };
  }
  const sign = signs.find(([pattern]) => pattern.test(detail));
  return { kind: sign?.[1] ?? 'failed', detail };
}
