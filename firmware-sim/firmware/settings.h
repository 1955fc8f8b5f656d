/*
 * The stand's settings: their ranges, their names, and how they lie in EEPROM. Pure: compiles on the board and on a host.
 *
 * EEPROM, 1024 bytes, all numbers with the low byte first:
 *
 *   0x000  boot counter, record 0: count (2 bytes), check (1 byte: low ^ high ^ 0xA5)
 *   0x003  boot counter, record 1: the same; the higher good one counts, the other is written next
 *   0x020  settings, copy A, 78 bytes
 *   0x0A0  settings, copy B, 78 bytes
 *   all else erased (0xFF)
 *
 * One copy:
 *
 *   offset  bytes  content
 *        0      1  version of this layout, 1
 *        1      1  length of the copy, 78
 *        2      2  generation, one more at every save, modulo 65536
 *        4     16  name, filled up with 0x00
 *       20      2  pulses per turn
 *       22      2  debounce, microseconds
 *       24      1  cells
 *       25      1  direction
 *       26      2  warn, pulses
 *       28     24  slope 1 to 6, nanograms per count, signed, 4 bytes each
 *       52     24  zero 1 to 6, counts, signed, 4 bytes each
 *       76      2  CRC-16 (crc16.h) over bytes 0 to 75
 */
#ifndef SETTINGS_H
#define SETTINGS_H

#include <stdbool.h>
#include <stdint.h>

#include "text.h"

#define CELLS_MAX 6
#define NAME_LIMIT 16

#define SETTINGS_VERSION 1
#define SETTINGS_LENGTH 78
#define SETTINGS_COPY_A 0x020
#define SETTINGS_COPY_B 0x0A0

struct settings {
    char name[NAME_LIMIT + 1];
    uint16_t pulses_per_turn;
    uint16_t debounce_us;
    uint8_t cells;
    uint8_t direction;
    uint16_t warn_pulses;
    int32_t slope_nanograms[CELLS_MAX];
    int32_t zero_counts[CELLS_MAX];
};

enum settings_status { SETTINGS_OK, SETTINGS_BLANK, SETTINGS_CORRUPT };

/* name, ppt, debounce, cells, direction, warn, slope1 .. slope6, zero1 .. zero6 */
#define SETTINGS_KEYS (6 + 2 * CELLS_MAX)

/* What holds until somebody saves. Safe, but arming is refused with them. */
void settings_defaults(struct settings *settings);

/* True when every value lies in its range. */
bool settings_valid(const struct settings *settings);

/* Changes one setting by its name on the wire. False, and nothing changed, for an unknown name or a value out of range. */
bool settings_set(struct settings *settings, const char *key, const char *value);

/* Puts `<key> <value>` of setting 0 .. SETTINGS_KEYS - 1. */
void settings_put(struct line *line, const struct settings *settings, uint8_t index);

#endif
