export const page = {
  name: 'Catchbench',
  skip: 'Zu den Tasten des Laufs',
  demo: 'Demo',
  menu: 'Bereiche',
  loading: 'Einen Augenblick …',
  notLoaded: 'Dieser Bereich war nicht zu holen. Läuft Catchbench noch?',
  again: 'Noch einmal versuchen',
  demoNote: 'Prüfstand und Drillmaschine sind erdacht: Nichts dreht sich wirklich.',
} as const;

export const places = {
  run: 'Lauf',
  setting: 'Einstellung',
  plan: 'Vorgaben',
  stand: 'Prüfstand',
  field: 'Feld',
  runs: 'Archiv',
  sheet: 'Protokoll',
  preferences: 'Anpassen',
} as const;

export const units = { choose: 'Einheiten', metric: 'kg/ha', us: 'lb/ac', turns: 'Umdrehungen' } as const;

export const problem = {
  unreachable: 'Catchbench antwortet nicht. Läuft es noch?',
  unreachableStop:
    'Das Stopp kam nicht an: Catchbench antwortet nicht. Den Stopptaster am Prüfstand drücken.',
  unknown: 'Catchbench hat ohne Begründung abgelehnt (Status {status, number}).',
  close: 'Schließen',
} as const;

export const age = {
  never: 'noch nichts gehört',
  heard: 'zuletzt gehört vor {ago}',
  seconds: '{seconds, number} s',
  minutes: '{minutes, number} min',
} as const;

export const socket = {
  connecting: 'Verbindung zu Catchbench wird aufgebaut …',
  lostWord: 'Keine Verbindung',
  lost: 'Diese Seite erreicht Catchbench nicht: Das Programm ist vielleicht beendet, oder das Netz ist weg.',
  lostTurning:
    'Diese Seite erreicht Catchbench nicht, und das Rad dreht sich vielleicht. Zum Anhalten den Stopptaster am Prüfstand drücken.',
  notSetUp: 'Prüfstand nicht eingerichtet',
  waiting: 'Nächster Versuch in {seconds, number} s.',
  trying: 'Versuch läuft …',
  tryNow: 'Jetzt versuchen',
  old: 'Alte Werte: {age}.',
} as const;
