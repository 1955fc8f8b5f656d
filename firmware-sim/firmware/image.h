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

/* True when generation `a` was saved after `b`, or is the same. */
bool image_not_older(uint16_t a, uint16_t b);

/*
 * Writing a copy takes IMAGE_STEPS byte writes; step `step` puts the returned value at `*offset` of the copy. The version is
 * made invalid first and put back only when all the content is in place; the check comes last. So until the content is
 * complete the version says no, and after that any accepted state is the new one, whatever a cut leaves in the byte
 * being written.
 */
#define IMAGE_STEPS (SETTINGS_LENGTH + 1)
uint8_t image_step(const uint8_t image[SETTINGS_LENGTH], uint8_t step, uint8_t *offset);

/* A record of the boot counter: count (2 bytes), check (1 byte). */
#define BOOT_RECORD_LENGTH 3
void boot_encode(uint8_t record[BOOT_RECORD_LENGTH], uint16_t count);
bool boot_decode(const uint8_t record[BOOT_RECORD_LENGTH], uint16_t *count);

#endif
