import { firmwareStanding, shippedFirmware } from './firmware-version.ts';
import { figure, grave, judged, type Remark, remark, type StandKnown, type StepLogic } from './types.ts';

/** What the board says of itself: name, version, settings, why it was last reset. */

const resetRemarks: Record<string, string> = { W: 'reset-watchdog', B: 'reset-brown-out' };

function remarksOf({ identity }: StandKnown): Remark[] {
  const { firmware, settings, reset } = identity;
  const standing = firmwareStanding(firmware);
  const remarks: Remark[] = [];
  if (standing !== 'same')
    remarks.push(remark(`firmware-${standing}`, { firmware, shipped: shippedFirmware }));
  if (settings !== 'ok') remarks.push(remark(`settings-${settings}`));
  for (const letter of reset) {
    const code = resetRemarks[letter];
    if (code !== undefined) remarks.push(code === 'reset-watchdog' ? grave(code) : remark(code));
  }
  return remarks;
}

export const identityStep: StepLogic<'unasked'> = {
  begin: () => 'unasked',
  take: (work, input, known) => {
    if (input.type !== 'act' || input.act.do !== 'go') return { work };
    const { boot, cells, pulsesPerTurn, protocol } = known.identity;
    const figures = [
      figure('protocol', protocol),
      figure('boot', boot),
      figure('cells', cells),
      figure('pulses-per-turn', pulsesPerTurn),
    ];
    return { work, result: judged(figures, remarksOf(known)) };
  },
  ask: (_work, { identity: { name, firmware } }) => ({
    code: 'identity',
    values: { name, firmware },
    acts: ['go'],
  }),
  live: () => [],
};
