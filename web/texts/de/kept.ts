export const kept = {
  newVersion: 'Eine neue Fassung dieser Seite ist da. Was Sie eingetippt haben, bleibt.',
  takeIt: 'Jetzt nehmen',
  withoutTitle: 'Ohne Catchbench geöffnet',
  without:
    'Die Seite stammt aus dem, was dieses Gerät aufbewahrt hat; seit dem Öffnen war von Catchbench nichts zu hören. Vorgaben, Läufe und Werte kommen von selbst zurück, sobald es erreicht ist.',
  title: 'Ohne Verbindung',
  here: 'Dieses Gerät bewahrt die Seite auf: Sie öffnet sich auch ohne Netz und wartet dann auf Catchbench.',
  cannot:
    'Dieser Browser bewahrt die Seite nicht auf: Sie braucht Catchbench bei jedem Öffnen. Browser bewahren Seiten nur vom selben Rechner oder über https auf.',
  looking: 'Wird geprüft, ob dieser Browser die Seite aufbewahren kann …',
} as const;
