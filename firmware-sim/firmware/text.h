/*
 * Building one line of text, and reading numbers out of one. Pure: compiles on the board and on a host.
 */
#ifndef TEXT_H
#define TEXT_H

#include <stdbool.h>
#include <stdint.h>

#include "flash.h"

/* Longest line from the board, check included, without and with carriage return and line feed. */
#define LINE_LIMIT 160
#define LINE_BUFFER (LINE_LIMIT + 2)

struct line {
    uint8_t length;
    char text[LINE_BUFFER];
};

/* Each puts its text at the end of the line; what does not fit is left out (the longest line is checked by a host test). */
void put_char(struct line *line, char character);
void put_text(struct line *line, const char *text);
void put_flash(struct line *line, const __flash char *text);
void put_unsigned(struct line *line, uint32_t value);
void put_signed(struct line *line, int32_t value);
void put_hex(struct line *line, uint16_t value, uint8_t digits);

/* Puts `*`, the check over all before it, carriage return and line feed. */
void put_check(struct line *line);

/* Value of an upper-case hexadecimal digit, or 0xFF. */
uint8_t hex_digit(char character);

/*
 * Reads a whole text as a decimal number: digits only, no leading zero, within range. False, and `value` untouched, if it is
 * not one. The signed form allows one leading minus, but not for 0.
 */
bool read_unsigned(const char *text, uint32_t *value);
bool read_signed(const char *text, int32_t *value);

#endif
