export const sheet = {
  title: 'Calibration sheet',
  print: 'Print this page',
  none: 'There is nothing to print yet: the sheet comes with the first run of a calibration that knows the setting scale.',
  toSetting: 'To the setting',
  missing: 'This calibration is not on record, or it has no runs.',
  loading: 'Reading the records …',
  which: 'What to print',
  kinds: { sheet: 'Sheet', lid: 'Chart for the lid' },
  pdf: 'PDF, {paper}',
} as const;
