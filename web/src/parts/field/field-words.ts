import { figure } from '../../state/format.ts';
import { system } from '../../state/store.ts';
import { fromSi, shown } from '../../state/units.ts';

/** Amounts of the field in the units of whoever looks. */

export function rateText(gramsPerSquareMetre: number): string {
  const unit = shown[system.value].rate;
  return `${figure(fromSi(gramsPerSquareMetre, 'rate', unit))} ${unit}`;
}

export function seedMass(grams: number): string {
  const unit = system.value === 'us' ? 'lb' : 'kg';
  return `${figure(fromSi(grams, 'mass', unit))} ${unit}`;
}

export function areaText(squareMetres: number): string {
  const unit = system.value === 'us' ? 'ac' : 'ha';
  return `${figure(fromSi(squareMetres, 'area', unit))} ${unit}`;
}
