import { unitSize } from '../../../server/domain/units.ts';

/** The units a person may choose between, and every spelling the fields understand. Inside, all is SI. */
export const systems = ['metric', 'us'] as const;
export type System = (typeof systems)[number];

export type Dimension =
  | 'length'
  | 'rate'
  | 'share'
  | 'thousand-seed'
  | 'mass'
  | 'density'
  | 'speed'
  | 'turns'
  | 'count'
  | 'mark'
  | 'ratio'
  | 'volume'
  | 'area';

interface Unit {
  /** As the page writes it. */
  label: string;
  /** Other spellings understood, lower case. */
  spellings: string[];
  /** SI amount of one of it. */
  amount: number;
  /** The more of it, the less in SI: so many seeds to the pound. */
  inverse?: true;
}

const unit = (label: string, amount: number, ...spellings: string[]): Unit => ({ label, amount, spellings });
const inverse = (label: string, amount: number, ...spellings: string[]): Unit => ({
  ...unit(label, amount, ...spellings),
  inverse: true,
});

/** Litres of a US bushel: 2150.42 cubic inches (NIST Handbook 44, appendix C). */
const bushelLitres = 2150.42 * unitSize.inch ** 3 * 1000;

const units: Record<Dimension, Unit[]> = {
  length: [
    unit(
      'mm',
      unitSize.millimetre,
      'millimetre',
      'millimetres',
      'millimeters',
      'millimètres',
      'milímetros',
      'millimeter',
    ),
    unit(
      'cm',
      unitSize.centimetre,
      'centimetre',
      'centimetres',
      'centimeters',
      'centimètres',
      'centímetros',
      'zentimeter',
    ),
    unit('m', 1, 'metre', 'metres', 'meter', 'meters', 'mètre', 'mètres', 'metro', 'metros'),
    unit(
      'in',
      unitSize.inch,
      'inch',
      'inches',
      'in.',
      '"',
      "''",
      'po',
      'pouce',
      'pouces',
      'pulgada',
      'pulgadas',
      'zoll',
    ),
    unit('ft', unitSize.foot, 'foot', 'feet', 'ft.', "'", 'pied', 'pieds', 'pie', 'pies', 'fuß', 'fuss'),
    unit('km', 1000, 'kilometre', 'kilometres', 'kilometers'),
    unit('mi', 5280 * unitSize.foot, 'mile', 'miles'),
  ],
  rate: [
    unit(
      'kg/ha',
      unitSize.kilogramPerHectare,
      'kg per ha',
      'kg per hectare',
      'kg/hectare',
      'kgha',
      'kg par ha',
      'kg par hectare',
      'kg por ha',
      'kg por hectárea',
      'kg je ha',
      'kg pro ha',
      'kg je hektar',
      'kg pro hektar',
    ),
    unit(
      'lb/ac',
      unitSize.poundPerAcre,
      'lbs/ac',
      'lb/acre',
      'lbs/acre',
      'lb per acre',
      'lbs per acre',
      'pounds per acre',
      'lb/a',
    ),
    unit('g/m²', 1, 'g/m2', 'g/m^2', 'g/sqm'),
  ],
  share: [unit('%', 0.01, 'percent', 'per cent', 'pct', 'pour cent', 'por ciento', 'prozent')],
  'thousand-seed': [
    unit(
      'g',
      0.001,
      'gram',
      'grams',
      'gramme',
      'grammes',
      'gramo',
      'gramos',
      'gramm',
      'g/1000',
      'g per 1000',
    ),
    unit('mg', 0.000001),
    inverse('seeds/lb', unitSize.pound, 'seeds per lb', 'seeds per pound', 'seeds/pound', '/lb', 'per lb'),
    inverse('seeds/g', 1, 'seeds per g', 'seeds per gram', 'seeds/gram', '/g', 'per g'),
  ],
  speed: [
    unit(
      'km/h',
      unitSize.kilometrePerHour,
      'kmh',
      'kph',
      'km per hour',
      'km par heure',
      'km por hora',
      'km je stunde',
      'km pro stunde',
    ),
    unit('mph', unitSize.milePerHour, 'mi/h', 'miles per hour'),
    unit('m/s', 1, 'metres per second'),
  ],
  turns: [
    unit(
      'turns',
      1,
      'turn',
      'revolutions',
      'rev',
      'revs',
      'tour',
      'tours',
      'vuelta',
      'vueltas',
      'umdrehung',
      'umdrehungen',
      'u',
    ),
  ],
  mass: [
    unit('g', 1, 'gram', 'grams', 'gramme', 'grammes', 'gramo', 'gramos', 'gramm'),
    unit(
      'kg',
      1000,
      'kilogram',
      'kilograms',
      'kilogramme',
      'kilogrammes',
      'kilogramo',
      'kilogramos',
      'kilogramm',
      'kilo',
      'kilos',
    ),
    unit('oz', unitSize.pound / 16, 'ounce', 'ounces', 'once', 'onces', 'onza', 'onzas', 'unze', 'unzen'),
    unit('lb', unitSize.pound, 'lbs', 'pound', 'pounds', 'livre', 'livres', 'libra', 'libras', 'pfund'),
    unit('t', 1e6, 'tonne', 'tonnes'),
  ],
  density: [
    unit('kg/hL', 10, 'kg/hl', 'kg per hectolitre'),
    unit('kg/m³', 1, 'kg/m3', 'kg/m^3'),
    unit('g/L', 1, 'g/l', 'g per litre'),
    unit('lb/bu', unitSize.pound / bushelLitres, 'lbs/bu', 'lb/bushel', 'lbs/bushel', 'lb per bushel'),
  ],
  mark: [unit('', 1, 'mark', 'marks', 'repère', 'repères', 'marca', 'marcas', 'marke', 'marken')],
  ratio: [unit('', 1, 'times', 'x', '×', ': 1', ':1', 'to 1')],
  volume: [
    unit('L', 1, 'l', 'litre', 'litres', 'liter', 'liters', 'dm3', 'dm³'),
    unit('mL', 0.001, 'ml', 'cm3', 'cm³', 'cc'),
    unit('hL', 100, 'hl'),
    unit('US pt', bushelLitres / 64, 'dry pt', 'dry pint', 'pt', 'pint', 'pints'),
    unit('US qt', bushelLitres / 32, 'dry qt', 'dry quart', 'qt', 'quart', 'quarts'),
    unit('bu', bushelLitres, 'bushel', 'bushels', 'us bu'),
  ],
  count: [unit('', 1, 'row', 'rows', 'rang', 'rangs', 'línea', 'líneas', 'reihe', 'reihen')],
  area: [
    unit('m²', 1, 'm2', 'm^2', 'sqm'),
    unit('ha', 10_000, 'hectare', 'hectares'),
    unit('ac', unitSize.acre, 'acre', 'acres'),
    unit('ft²', unitSize.foot ** 2, 'ft2', 'ft^2', 'sq ft', 'sqft'),
  ],
};

/** The unit meant by `spelling`, or null when the dimension has none of that name. */
export function findUnit(dimension: Dimension, spelling: string): Unit | null {
  const wanted = spelling.toLowerCase().replace(/\s+/g, ' ');
  const names = (one: Unit) => [one.label.toLowerCase(), ...one.spellings];
  return units[dimension].find((one) => names(one).includes(wanted)) ?? null;
}

/** SI value of `value` of the unit `label`. */
export function toSi(value: number, dimension: Dimension, label: string): number {
  const { amount, inverse: upside } = findUnit(dimension, label)!;
  return upside ? amount / value : value * amount;
}

/** Value in the unit `label` of an SI value. */
export function fromSi(si: number, dimension: Dimension, label: string): number {
  const { amount, inverse: upside } = findUnit(dimension, label)!;
  return upside ? amount / si : si / amount;
}

/** The units in which figures are shown. */
export const shown: Record<System, { rate: string; speed: string; mass: string; density: string }> = {
  metric: { rate: 'kg/ha', speed: 'km/h', mass: 'g', density: 'kg/hL' },
  us: { rate: 'lb/ac', speed: 'mph', mass: 'oz', density: 'lb/bu' },
};

export const shownArea: Record<System, string> = { metric: 'm²', us: 'ac' };
