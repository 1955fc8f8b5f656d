#include "text.h"

#include "crc16.h"

void put_char(struct line *line, char character)
{
    if (line->length < LINE_BUFFER)
        line->text[line->length++] = character;
}

void put_text(struct line *line, const char *text)
{
    while (*text)
        put_char(line, *text++);
}

void put_flash(struct line *line, const __flash char *text)
{
    while (*text)
        put_char(line, *text++);
}

/* Puts the digits above the last four of a number, and takes them off it. */
static void put_ten_thousands(struct line *line, uint32_t *value)
{
    static const __flash uint32_t powers[] = {1000000000, 100000000, 10000000, 1000000, 100000, 10000};
    bool begun = false;
    for (uint8_t i = 0; i < sizeof powers / sizeof powers[0]; i++) {
        uint32_t power = powers[i];
        char digit = '0';
        while (*value >= power) {
            *value -= power;
            digit++;
        }
        begun |= digit != '0';
        if (begun)
            put_char(line, digit);
    }
}

/*
 * Counts how often each power of ten fits: no division, which costs about 600 cycles a digit on this chip. The last four
 * digits, which are most of all digits sent, in 16 bits.
 */
void put_unsigned(struct line *line, uint32_t value)
{
    static const __flash uint16_t powers[] = {1000, 100, 10};
    bool begun = value >= 10000;
    if (begun)
        put_ten_thousands(line, &value);
    uint16_t rest = (uint16_t)value;
    for (uint8_t i = 0; i < sizeof powers / sizeof powers[0]; i++) {
        uint16_t power = powers[i];
        char digit = '0';
        while (rest >= power) {
            rest -= power;
            digit++;
        }
        begun |= digit != '0';
        if (begun)
            put_char(line, digit);
    }
    put_char(line, (char)('0' + (uint8_t)rest));
}

void put_signed(struct line *line, int32_t value)
{
    if (value < 0)
        put_char(line, '-');
    put_unsigned(line, value < 0 ? 0 - (uint32_t)value : (uint32_t)value);
}

void put_hex(struct line *line, uint16_t value, uint8_t digits)
{
    while (digits--) {
        uint8_t digit = (value >> (4 * digits)) & 0x0F;
        put_char(line, (char)(digit < 10 ? '0' + digit : 'A' - 10 + digit));
    }
}

void put_check(struct line *line)
{
    uint16_t check = crc16(line->text, line->length);
    put_char(line, '*');
    put_hex(line, check, 4);
    put_char(line, '\r');
    put_char(line, '\n');
}

uint8_t hex_digit(char character)
{
    if (character >= '0' && character <= '9')
        return (uint8_t)(character - '0');
    if (character >= 'A' && character <= 'F')
        return (uint8_t)(character - 'A' + 10);
    return 0xFF;
}

bool read_unsigned(const char *text, uint32_t *value)
{
    uint32_t sum = 0;
    if (!*text || (text[0] == '0' && text[1]))
        return false;
    for (; *text; text++) {
        uint8_t digit = (uint8_t)(*text - '0');
        if (digit > 9 || sum > UINT32_MAX / 10 || sum * 10 > UINT32_MAX - digit)
            return false;
        sum = sum * 10 + digit;
    }
    *value = sum;
    return true;
}

bool read_signed(const char *text, int32_t *value)
{
    uint32_t magnitude;
    bool negative = *text == '-';
    if (!read_unsigned(text + negative, &magnitude))
        return false;
    if (magnitude > (uint32_t)INT32_MAX || (negative && magnitude == 0))
        return false;
    *value = negative ? -(int32_t)magnitude : (int32_t)magnitude;
    return true;
}
