import type { LinkView } from '../http/messages.ts';
import type { Connection, OpenStage, Stage } from './connection.ts';
import { protocolVersion } from './decoded.ts';
import type { Trouble, TroubleKind } from './trouble.ts';

/** What the connection's state is called on the page, and what a mechanic should know and do about it. */

export type LinkCondition = LinkView['condition'];

export function conditionOf({ stage, trouble, known }: Connection): LinkCondition {
  switch (stage.at) {
    case 'stopped':
    case 'searching':
      return 'searching';
    case 'opening':
      return trouble === null ? 'opening' : 'lost';
    case 'connected':
      return stage.quiet ? 'silent' : 'connected';
    case 'foreign':
      if (stage.protocol !== null) return 'wrong-version';
      return !stage.spoken && known?.path === stage.path ? 'silent' : 'wrong-device';
    case 'closing':
      return trouble === null ? 'opening' : 'lost';
    case 'waiting':
      return 'lost';
    default:
      return 'asking';
  }
}

const troubleSentences: Record<TroubleKind, (path: string) => string> = {
  busy: (path) =>
    `Another program is using ${path}. Close it (a serial monitor, or a second Catchbench); the port is tried again by itself.`,
  denied: (path) =>
    `This user may not open ${path}. On Linux add the user to the group that owns the port, usually dialout: "sudo usermod -aG dialout $USER", then log in again.`,
  missing: (path) =>
    `There is no port ${path} now. Plug the stand in, or choose another port; it is tried again by itself.`,
  'no-port': (path) => `What is at ${path} is not a serial port. Choose the port that the stand is on.`,
  unplugged: (path) =>
    `The cable to the stand came out, or the stand lost its power (${path}). Plug it in again; it is found by itself. A motor stops by itself after one second.`,
  stuck: (path) =>
    `The port ${path} does not respond to the computer. Unplug the stand's cable and plug it in again.`,
  silent: (path) =>
    `The stand on ${path} fell silent, so the port was closed and is tried again. Check the stand's power and its cable.`,
  failed: (path) => `The port ${path} could not be used. Plug the stand in again, or choose another port.`,
};

function troubleSentence(trouble: Trouble, path: string): string {
  const sentence = troubleSentences[trouble.kind](path);
  return trouble.kind === 'failed' ? `${sentence} The system says: ${trouble.detail}.` : sentence;
}

function searchingSentence(found: number): string {
  return found > 1
    ? 'There are several serial ports. Choose the one that the stand is on.'
    : 'No serial port was found. Plug the stand in by its USB cable, or choose a port.';
}

function foreignSentence(stage: Stage & { at: 'foreign' }, knownName: string | null): string {
  const { path, protocol, spoken } = stage;
  if (protocol !== null) {
    return `The stand on ${path} speaks version ${protocol} of the protocol and this program version ${protocolVersion}. ${
      protocol > protocolVersion
        ? 'Update this program'
        : "Flash the stand's board with the firmware of this program"
    }, so that both are the same.`;
  }
  if (spoken) {
    return `Something answers on ${path}, but it is not a Catchbench stand. Choose the port that the stand is on.`;
  }
  if (knownName !== null) {
    return `The stand ${knownName} no longer answers on ${path}. Check that it has power; it is asked again by itself.`;
  }
  return `The port ${path} is open but nothing answers as a Catchbench stand does. Check that the stand has power, or choose another port.`;
}

function openSentence(stage: OpenStage, known: Connection['known'], deaf: boolean): string {
  switch (stage.at) {
    case 'asking':
      return `The port ${stage.path} is open; asking what is there. A board that starts anew takes about two seconds.`;
    case 'foreign':
      return foreignSentence(stage, known?.path === stage.path ? known.name : null);
    default:
      if (stage.quiet) {
        return `The stand ${stage.identity.name} has not been heard for half a second. If this lasts, check its power and cable.`;
      }
      return connectedSentence(stage.identity.name, stage.identity.settings, deaf);
  }
}

function connectedSentence(name: string, settings: 'ok' | 'blank' | 'corrupt', deaf: boolean): string {
  if (deaf) {
    return `The stand ${name} is heard but does not hear the computer, so it will not start. Check the cable, then unplug it and plug it in again.`;
  }
  if (settings === 'blank')
    return `The stand ${name} is connected, but has no settings yet: set it up before a run.`;
  if (settings === 'corrupt') {
    return `The stand ${name} is connected, but its settings are damaged and it will not start a run: set it up anew.`;
  }
  return `The stand ${name} is connected.`;
}

/** The whole state in a sentence or two. `deaf`: the board says that it hears no host, though we speak. */
export function linkSentence({ stage, trouble, known }: Connection, deaf: boolean): string {
  switch (stage.at) {
    case 'stopped':
      return 'The link to the stand is switched off.';
    case 'searching':
      return trouble === null
        ? searchingSentence(stage.found)
        : troubleSentence(trouble, known?.path ?? 'it was on');
    case 'opening':
    case 'closing':
      return trouble === null ? `Opening ${stage.path}.` : troubleSentence(trouble, stage.path);
    case 'waiting':
      return trouble === null
        ? `The port ${stage.path} is tried again in a moment.`
        : troubleSentence(trouble, stage.path ?? 'it was on');
    default:
      return openSentence(stage, known, deaf);
  }
}
