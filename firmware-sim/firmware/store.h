/*
 * Settings and boot counter in EEPROM. Writing goes on in the background, a byte at a time, and holds nothing up.
 */
#ifndef STORE_H
#define STORE_H

#include <stdbool.h>
#include <stdint.h>

#include "settings.h"

/* Reads the settings (defaults, if there are none) and counts this reset. */
enum settings_status store_load(struct settings *settings);

/* Resets since the board was new, this one included, modulo 2^16. */
uint16_t store_boot(void);

/* To be called once a pass: goes on with whatever is being written. */
void store_task(void);

/* Begins to save; whatever copy was being written before begins again with these settings. */
void store_save(const struct settings *settings);

enum save_progress { SAVE_BUSY, SAVE_DONE, SAVE_FAILED };

/* How the last save is doing; failed when the EEPROM does not read back what was written. */
enum save_progress store_progress(void);

#endif
