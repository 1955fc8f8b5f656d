import type { Role } from './roles.ts';

/** Whoever asks: a paired device, or this computer itself. */
export interface Person {
  /** Session number, or `host`. */
  id: string;
  /** What the device was called; empty for this computer. */
  name: string;
  role: Role;
}

/** Whoever sits at this computer has its screen, its disk and the stand's plug: pairing would protect nothing. */
export const host: Person = { id: 'host', name: '', role: 'manage' };

/** How something is refused: `code` for programs, `message` for people. */
export interface Refusal {
  status: number;
  code: string;
  message: string;
}

export const refusals = {
  notPaired: {
    status: 401,
    code: 'not-paired',
    message:
      'This device is not paired with Catchbench. Open its page here and type in the code shown by the computer at the stand.',
  },
  noCode: {
    status: 409,
    code: 'no-code',
    message: 'No code is waiting to be typed in. Ask for one; it is shown by the computer at the stand.',
  },
  wrongCode: {
    status: 403,
    code: 'wrong-code',
    message:
      'This is not the code. Look again at the computer at the stand; after five wrong tries it shows another.',
  },
  wait: {
    status: 429,
    code: 'wait',
    message: 'Too many wrong codes came from this device. Wait ten minutes, then ask for a new one.',
  },
  busy: {
    status: 429,
    code: 'wait',
    message: 'Others are being paired at this moment. Wait a few seconds and try again.',
  },
  noName: {
    status: 400,
    code: 'bad-input',
    message: 'Give this device a name, so that the others know who it is.',
  },
  unknownSession: {
    status: 404,
    code: 'not-found',
    message: 'There is no paired device with this number.',
  },
  notShared: {
    status: 409,
    code: 'not-shared',
    message:
      'Catchbench listens to this computer alone. Started with --lan, others on the shop network may come in.',
  },
} as const satisfies Record<string, Refusal>;

export type Result<T> = { ok: true; value: T } | { ok: false; refusal: Refusal };

export const refuse = (refusal: Refusal): Result<never> => ({ ok: false, refusal });
