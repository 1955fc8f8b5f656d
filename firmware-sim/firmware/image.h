/*
 * The settings as bytes in EEPROM (layout: settings.h): which copy counts, and in which order a copy is written so that a
 * power cut at any moment leaves the old settings or the new ones. Pure: compiles on the board and on a host.
 */
#ifndef IMAGE_H
#define IMAGE_H

#include "settings.h"

/* Encodes settings into the bytes of one copy, check included. */
void image_encode(uint8_t image[SETTINGS_LENGTH], const struct settings *settings, uint16_t generation);

/* Decodes one copy. False when version, length, check or any value is wrong. */
bool image_decode(const uint8_t image[SETTINGS_LENGTH], struct settings *settings, uint16_t *generation);

/* True when every byte is erased. */
bool image_blank(const uint8_t image[SETTINGS_LENGTH]);

struct stored {
    enum settings_status status;
    struct settings settings; /* defaults unless ok */
    uint8_t copy;             /* the one that counts: 0 is A, 1 is B */
    uint16_t generation;      /* of that copy */
};

/* Which of the two copies counts: the good one, or of two good ones the one with the later generation. */
struct stored image_choose(const uint8_t a[SETTINGS_LENGTH], const uint8_t b[SETTINGS_LENGTH]);

/*
 * Writing a copy takes IMAGE_STEPS byte writes; step `step` puts the returned value at `*offset` of the copy. The version is
 * made invalid first and put back only when all the content is in place; the check comes last. So until the content is
 * complete the version says no, and after that any accepted state is the new one, whatever a cut leaves in the byte
 * being written.
 */
#define IMAGE_STEPS (SETTINGS_LENGTH + 1)
uint8_t image_step(const uint8_t image[SETTINGS_LENGTH], uint8_t step, uint8_t *offset);

/* The boot counter: two records, each a count (2 bytes) and a check (1 byte). */
#define BOOT_RECORD_LENGTH 3
#define BOOT_LENGTH (2 * BOOT_RECORD_LENGTH)

struct boot_place {
    uint16_t count; /* of this reset */
    uint8_t offset; /* of the record to write it to */
};

/* The count of this reset and where it goes: not over the newest good record, so a power cut costs one count at most. */
struct boot_place boot_next(const uint8_t records[BOOT_LENGTH]);

void boot_encode(uint8_t record[BOOT_RECORD_LENGTH], uint16_t count);

#endif
