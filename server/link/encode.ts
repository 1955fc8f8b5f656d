import { checkDigits, crc16 } from './crc16.ts';
import { unsigned } from './fields.ts';
import { isSettingKey, type SettingKey, settingFits } from './settings.ts';

/** Everything the host may say to the board. A closed list, so that no free text reaches the wire. */
export type BoardCommand =
  | { command: 'id' | 'beat' | 'stop' | 'get' | 'save' | 'health' | 'help' | 'lamp' }
  | { command: 'arm'; mode: 'motor' | 'hand'; pulses: number }
  /** `key`: what the stand answered to `arm`, digits. */
  | { command: 'go'; key: string }
  | { command: 'set'; key: SettingKey; value: string };

/** Stop at any point of the stream; taken in the board's receive interrupt and part of no line. */
export const stopCharacter = '!';

export const greatestTag = 65535;
export const greatestPreset = 16777215;
const greatestKey = 0xffffffff;

/** A command that the board could only refuse; the message says which part of it, for people. */
export class CommandError extends Error {
  override name = 'CommandError';
}

const plainCommands = new Set(['id', 'beat', 'stop', 'get', 'save', 'health', 'help', 'lamp']);

function words(command: BoardCommand): string {
  switch (command.command) {
    case 'arm':
      return armWords(command.mode, command.pulses);
    case 'go':
      if (unsigned(command.key, greatestKey) === null)
        throw new CommandError('The start key is not one that a stand hands out.');
      return `go ${command.key}`;
    case 'set':
      if (!isSettingKey(command.key) || !settingFits(command.key, command.value)) {
        throw new CommandError(`The stand has no setting ${command.key} with the value ${command.value}.`);
      }
      return `set ${command.key} ${command.value}`;
    default:
      if (!plainCommands.has(command.command)) throw new CommandError('The stand has no such command.');
      return command.command;
  }
}

function armWords(mode: 'motor' | 'hand', pulses: number): string {
  if (mode !== 'motor' && mode !== 'hand') throw new CommandError('A run is driven by motor or by hand.');
  if (!Number.isInteger(pulses) || pulses < 1 || pulses > greatestPreset) {
    throw new CommandError(`A run lasts from 1 to ${greatestPreset} whole pulses of the wheel sensor.`);
  }
  return `arm ${mode} ${pulses}`;
}

/**
 * The command as a line for the board: tag, words, check, line feed.
 * @param tag 1 to 65535; the board repeats it in its answer.
 * @throws CommandError when a part is out of range.
 */
export function encodeCommand(tag: number, command: BoardCommand): string {
  if (!Number.isInteger(tag) || tag < 1 || tag > greatestTag) throw new CommandError('A tag is 1 to 65535.');
  const text = `${tag} ${words(command)}`;
  return `${text}*${checkDigits(crc16(text))}\n`;
}
