#include "image.h"

#include <string.h>

#include "crc16.h"

enum {
    AT_VERSION = 0,
    AT_LENGTH = 1,
    AT_GENERATION = 2,
    AT_NAME = 4,
    AT_PULSES_PER_TURN = 20,
    AT_DEBOUNCE = 22,
    AT_CELLS = 24,
    AT_DIRECTION = 25,
    AT_WARN = 26,
    AT_SLOPES = 28,
    AT_ZEROS = 52,
    AT_CHECK = 76,
};

static void put16(uint8_t *at, uint16_t value)
{
    at[0] = (uint8_t)value;
    at[1] = (uint8_t)(value >> 8);
}

static void put32(uint8_t *at, uint32_t value)
{
    put16(at, (uint16_t)value);
    put16(at + 2, (uint16_t)(value >> 16));
}

static uint16_t get16(const uint8_t *at) { return (uint16_t)(at[0] | (uint16_t)((uint16_t)at[1] << 8)); }

static int32_t get32(const uint8_t *at) { return (int32_t)(get16(at) | (uint32_t)get16(at + 2) << 16); }

void image_encode(uint8_t image[SETTINGS_LENGTH], const struct settings *settings, uint16_t generation)
{
    memset(image, 0, SETTINGS_LENGTH);
    image[AT_VERSION] = SETTINGS_VERSION;
    image[AT_LENGTH] = SETTINGS_LENGTH;
    put16(image + AT_GENERATION, generation);
    memcpy(image + AT_NAME, settings->name, strlen(settings->name));
    put16(image + AT_PULSES_PER_TURN, settings->pulses_per_turn);
    put16(image + AT_DEBOUNCE, settings->debounce_us);
    image[AT_CELLS] = settings->cells;
    image[AT_DIRECTION] = settings->direction;
    put16(image + AT_WARN, settings->warn_pulses);
    for (uint8_t cell = 0; cell < CELLS_MAX; cell++) {
        put32(image + AT_SLOPES + 4 * cell, (uint32_t)settings->slope_nanograms[cell]);
        put32(image + AT_ZEROS + 4 * cell, (uint32_t)settings->zero_counts[cell]);
    }
    put16(image + AT_CHECK, crc16(image, AT_CHECK));
}

/* The name ends at its first zero byte, and only zero bytes follow. */
static bool name_padded(const uint8_t *name)
{
    uint8_t at = 0;
    while (at < NAME_LIMIT && name[at])
        at++;
    for (; at < NAME_LIMIT; at++)
        if (name[at])
            return false;
    return true;
}

bool image_decode(const uint8_t image[SETTINGS_LENGTH], struct settings *settings, uint16_t *generation)
{
    if (image[AT_VERSION] != SETTINGS_VERSION || image[AT_LENGTH] != SETTINGS_LENGTH ||
        get16(image + AT_CHECK) != crc16(image, AT_CHECK) || !name_padded(image + AT_NAME))
        return false;
    *generation = get16(image + AT_GENERATION);
    memcpy(settings->name, image + AT_NAME, NAME_LIMIT);
    settings->name[NAME_LIMIT] = '\0';
    settings->pulses_per_turn = get16(image + AT_PULSES_PER_TURN);
    settings->debounce_us = get16(image + AT_DEBOUNCE);
    settings->cells = image[AT_CELLS];
    settings->direction = image[AT_DIRECTION];
    settings->warn_pulses = get16(image + AT_WARN);
    for (uint8_t cell = 0; cell < CELLS_MAX; cell++) {
        settings->slope_nanograms[cell] = get32(image + AT_SLOPES + 4 * cell);
        settings->zero_counts[cell] = get32(image + AT_ZEROS + 4 * cell);
    }
    return settings_valid(settings);
}

bool image_blank(const uint8_t image[SETTINGS_LENGTH])
{
    for (uint8_t i = 0; i < SETTINGS_LENGTH; i++)
        if (image[i] != 0xFF)
            return false;
    return true;
}

/* True when number `a` was given after `b`, or is the same; numbers come round after 65535. */
static bool not_older(uint16_t a, uint16_t b) { return (uint16_t)(a - b) < 0x8000; }

struct stored image_choose(const uint8_t a[SETTINGS_LENGTH], const uint8_t b[SETTINGS_LENGTH])
{
    struct stored stored = {.status = SETTINGS_OK};
    uint16_t generations[2];
    bool good_b = image_decode(b, &stored.settings, &generations[1]);
    bool good_a = image_decode(a, &stored.settings, &generations[0]);
    if (!good_a && !good_b) {
        stored.status = image_blank(a) && image_blank(b) ? SETTINGS_BLANK : SETTINGS_CORRUPT;
        settings_defaults(&stored.settings);
        return stored;
    }
    stored.copy = good_b && !(good_a && not_older(generations[0], generations[1]));
    stored.generation = generations[stored.copy];
    if (stored.copy)
        image_decode(b, &stored.settings, &stored.generation);
    return stored;
}

uint8_t image_step(const uint8_t image[SETTINGS_LENGTH], uint8_t step, uint8_t *offset)
{
    /* Step 0 the void version, 1 .. 75 the content, 76 the version, 77 and 78 the check. */
    if (step == 0) {
        *offset = AT_VERSION;
        return 0xFF;
    }
    *offset = step < AT_CHECK ? step : step == AT_CHECK ? AT_VERSION : (uint8_t)(step - 1);
    return image[*offset];
}

void boot_encode(uint8_t record[BOOT_RECORD_LENGTH], uint16_t count)
{
    put16(record, count);
    record[2] = record[0] ^ record[1] ^ 0xA5;
}

static bool boot_decode(const uint8_t record[BOOT_RECORD_LENGTH], uint16_t *count)
{
    *count = get16(record);
    return record[2] == (record[0] ^ record[1] ^ 0xA5);
}

struct boot_place boot_next(const uint8_t records[BOOT_LENGTH])
{
    struct boot_place place = {.count = 1, .offset = 0};
    uint16_t first, second;
    bool first_good = boot_decode(records, &first);
    bool second_good = boot_decode(records + BOOT_RECORD_LENGTH, &second);
    if (second_good && !(first_good && not_older(first, second)))
        place.count = second + 1;
    else if (first_good) {
        place.count = first + 1;
        place.offset = BOOT_RECORD_LENGTH;
    }
    return place;
}
