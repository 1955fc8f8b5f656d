import type { SettingScale } from './types.ts';

/** A mark as it is read off the scale: no more decimals than its step has. */
export function markWords(setting: number, scale: SettingScale): string {
  const decimals = Math.min(4, Math.max(decimalsOf(scale.step), decimalsOf(scale.low)));
  return String(Number(setting.toFixed(decimals)));
}

function decimalsOf(value: number): number {
  const text = String(Number(value.toFixed(4)));
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
}

/** A fraction as a percentage: 3 % above ten, 1.4 % below. */
export function percentWords(fraction: number): string {
  const percent = 100 * Math.abs(fraction);
  return `${percent >= 9.95 ? Math.round(percent) : Math.round(percent * 10) / 10} %`;
}

/** A probability as a percentage that never claims certainty, and never more than there is: 89.7 % are not the 90 % that are wanted. */
export function chanceWords(probability: number): string {
  if (probability > 0.99) return 'more than 99 %';
  if (probability < 0.01) return 'less than 1 %';
  return `${Math.floor(100 * probability + 1e-9)} %`;
}

/** 'a', 'a and b', 'a, b and c'. */
export function listWords(names: readonly string[]): string {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** 'one more run', '4 more runs'. */
export function moreRunsWords(count: number): string {
  return count === 1 ? 'one more run' : `${count} more runs`;
}

/** A rate against the target: '3 % above the target', '2.4 times the target'. */
export function againstTarget(rate: number, target: number): string {
  const off = rate / target - 1;
  if (Math.abs(off) < 0.0005) return 'on the target';
  if (off >= 1) return `${(rate / target).toPrecision(2)} times the target`;
  return `${percentWords(off)} ${off > 0 ? 'above' : 'below'} the target`;
}

/** A sentence's first letter as a capital. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
