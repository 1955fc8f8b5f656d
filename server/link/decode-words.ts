import { protocolVersion, type Refusal } from './decoded.ts';
import { inList, named, namedNumber, unsigned } from './fields.ts';
import type { Answer, Health, Identity, Setting } from './readings.ts';
import { isSettingKey, settingFits, standName } from './settings.ts';

/** The lines that come now and then: identity, answers, settings, health. The hot ones are in `decode.ts`. */

/** Why the board says no. */
export const refusalWords = ['unknown', 'value', 'state', 'button', 'settings', 'key', 'plain'] as const;
export type RefusalWord = (typeof refusalWords)[number];

const firmwareVersion = /^(0|[1-9][0-9]{0,4})\.(0|[1-9][0-9]{0,4})\.(0|[1-9][0-9]{0,4})$/;
const settingsWords = ['ok', 'blank', 'corrupt'] as const;
const directions = [0, 1, 2] as const;

/** Letters P, E, B, W, in this order, each at most once; `-` stands for none. Null when it is anything else. */
function resetLetters(text: string | null): string | null {
  if (text === '-') return '';
  return text !== null && /^(?=.)P?E?B?W?$/.test(text) ? text : null;
}

export function decodeIdentity(fields: string[], sequence: number): Identity | Refusal | null {
  if (fields[2] !== 'catchbench-stand') return null;
  const protocol = namedNumber('proto', fields[3], 0, 65535);
  if (protocol === null) return null;
  if (protocol !== protocolVersion) return { ok: false, reason: 'wrong-version', protocol };
  // Firmware from before `arm` leaves it out.
  if (fields.length !== 13 && fields.length !== 14) return null;
  const armings = fields.length === 14 ? namedNumber('arm', fields[13], 0, 255) : undefined;
  const firmware = named('fw', fields[4]);
  const name = named('name', fields[5]);
  const settings = inList(settingsWords, named('settings', fields[6]) ?? undefined);
  const boot = namedNumber('boot', fields[7], 0, 65535);
  const reset = resetLetters(named('reset', fields[8]));
  const pulsesPerTurn = namedNumber('ppt', fields[9], 1, 2000);
  const cells = namedNumber('cells', fields[10], 1, 6);
  const direction = directions[namedNumber('direction', fields[11], 0, 2) ?? 3];
  const debounceMicros = namedNumber('debounce', fields[12], 20, 20000);
  if (firmware === null || !firmwareVersion.test(firmware)) return null;
  if (name === null || !standName.test(name) || settings === null || boot === null || reset === null)
    return null;
  if (pulsesPerTurn === null || cells === null || direction === undefined || debounceMicros === null)
    return null;
  if (armings === null) return null;
  return {
    kind: 'identity',
    sequence,
    protocol,
    firmware,
    name,
    settings,
    boot,
    reset,
    pulsesPerTurn,
    cells,
    direction,
    debounceMicros,
    ...(armings === undefined ? {} : { armings }),
  };
}

export function decodeAnswer(fields: string[], sequence: number): Answer | null {
  const tag = unsigned(fields[2], 65535);
  if (tag === null || fields.includes('')) return null;
  if (fields[3] === 'ok') return { kind: 'answer', sequence, tag, ok: true, word: fields.slice(4).join(' ') };
  const word = inList(refusalWords, fields[4]);
  if (fields[3] !== 'no' || fields.length !== 5 || word === null) return null;
  return { kind: 'answer', sequence, tag, ok: false, word };
}

export function decodeSetting(fields: string[], sequence: number): Setting | null {
  const [, , key, value] = fields;
  if (fields.length !== 4 || key === undefined || value === undefined) return null;
  return isSettingKey(key) && settingFits(key, value) ? { kind: 'setting', sequence, key, value } : null;
}

/** The figures of a health line in their order, each with its greatest value; `up` stays at its own. */
const healthFigures: readonly [name: string, greatest: number][] = [
  ['up', 9999999],
  ['loop', 0xffff],
  ['worst', 0xffff],
  ['rxlost', 0xffff],
  ['rxbad', 0xffff],
  ['txlost', 0xffff],
  ['late', 0xffff],
  ['desync', 0xffff],
  ['bounced', 0xffffffff],
  ['stack', 2048],
  ['boot', 0xffff],
];

export function decodeHealth(fields: string[], sequence: number): Health | null {
  if (fields.length !== healthFigures.length + 3) return null;
  const figures: Record<string, number> = {};
  for (const [i, [name, greatest]] of healthFigures.entries()) {
    const value = namedNumber(name, fields[i + 2], 0, greatest);
    if (value === null) return null;
    figures[name] = value;
  }
  const reset = resetLetters(named('reset', fields[healthFigures.length + 2]));
  return reset === null ? null : { kind: 'health', sequence, figures, reset };
}
