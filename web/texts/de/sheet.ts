export const sheet = {
  title: 'Abdrehprotokoll',
  print: 'Diese Seite drucken',
  none: 'Noch nichts zu drucken: Das Protokoll kommt mit dem ersten Lauf einer Abdrehprobe, deren Skala bekannt ist.',
  toSetting: 'Zur Einstellung',
  missing: 'Diese Abdrehprobe ist nicht aufgezeichnet, oder sie hat keine Läufe.',
  loading: 'Die Aufzeichnungen werden gelesen …',
  which: 'Was gedruckt wird',
  kinds: { sheet: 'Protokoll', lid: 'Tabelle für den Deckel' },
  pdf: 'PDF, {paper}',
} as const;
