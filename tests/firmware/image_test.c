/*
 * Settings as bytes: golden copies both ways, every single flipped bit, and a power cut at every moment of a write.
 */
#include <string.h>

#include "check.h"
#include "image.h"

static int hex_bytes(const char *hex, uint8_t *bytes, int limit)
{
    int count = 0;
    for (; hex[0] && hex[1] && count < limit; hex += 2)
        bytes[count++] = (uint8_t)(hex_digit(hex[0]) << 4 | hex_digit(hex[1]));
    return count;
}

static void settings_of(const struct row *row, struct settings *settings)
{
    static const char *const keys[] = {"name",   "ppt",    "debounce", "cells",  "direction", "warn",
                                       "slope1", "slope2", "slope3",   "slope4", "slope5",    "slope6",
                                       "zero1",  "zero2",  "zero3",    "zero4",  "zero5",     "zero6"};
    memset(settings, 0, sizeof *settings);
    for (int i = 0; i < SETTINGS_KEYS; i++)
        CHECK_ROW(settings_set(settings, keys[i], row_text(row, keys[i])), row->number);
}

static bool same(const struct settings *a, const struct settings *b)
{
    return strcmp(a->name, b->name) == 0 && a->pulses_per_turn == b->pulses_per_turn && a->debounce_us == b->debounce_us &&
           a->cells == b->cells && a->direction == b->direction && a->warn_pulses == b->warn_pulses &&
           memcmp(a->slope_nanograms, b->slope_nanograms, sizeof a->slope_nanograms) == 0 &&
           memcmp(a->zero_counts, b->zero_counts, sizeof a->zero_counts) == 0;
}

static void golden_copy(const struct row *row)
{
    uint8_t expected[SETTINGS_LENGTH], image[SETTINGS_LENGTH];
    struct settings settings, decoded;
    uint16_t generation;
    CHECK_ROW(hex_bytes(row->line, expected, SETTINGS_LENGTH) == SETTINGS_LENGTH, row->number);
    settings_of(row, &settings);
    image_encode(image, &settings, (uint16_t)row_number(row, "generation"));
    CHECK_ROW(memcmp(image, expected, SETTINGS_LENGTH) == 0, row->number);
    CHECK_ROW(image_decode(expected, &decoded, &generation), row->number);
    CHECK_ROW(generation == row_number(row, "generation"), row->number);
    CHECK_ROW(same(&settings, &decoded), row->number);
}

static void golden_eeprom(const struct row *row)
{
    static const char *const words[] = {"ok", "blank", "corrupt"};
    uint8_t memory[SETTINGS_COPY_B + SETTINGS_LENGTH + 2];
    struct settings expected;
    struct stored stored;
    struct boot_place boot;
    CHECK_ROW(hex_bytes(row->line, memory, sizeof memory) == sizeof memory, row->number);
    settings_of(row, &expected);
    stored = image_choose(memory + SETTINGS_COPY_A, memory + SETTINGS_COPY_B);
    CHECK_ROW(strcmp(words[stored.status], row_text(row, "settings")) == 0, row->number);
    CHECK_ROW(same(&stored.settings, &expected), row->number);
    boot = boot_next(memory);
    CHECK_ROW(boot.count == row_number(row, "boot"), row->number);
}

void golden_image(const struct row *row)
{
    uint8_t image[SETTINGS_LENGTH];
    struct settings decoded;
    uint16_t generation;
    if (strcmp(row->kind, "copy") == 0) {
        golden_copy(row);
    } else if (strcmp(row->kind, "eeprom") == 0) {
        golden_eeprom(row);
    } else {
        CHECK_ROW(hex_bytes(row->line, image, SETTINGS_LENGTH) == SETTINGS_LENGTH, row->number);
        CHECK_ROW(!image_decode(image, &decoded, &generation), row->number);
    }
}

static void test_settings(struct settings *settings, const char *name, int32_t slope)
{
    settings_defaults(settings);
    strcpy(settings->name, name);
    for (int cell = 0; cell < CELLS_MAX; cell++)
        settings->slope_nanograms[cell] = slope - 77777 * cell;
}

static void every_flipped_bit_is_found(void)
{
    uint8_t image[SETTINGS_LENGTH];
    struct settings settings, decoded;
    uint16_t generation;
    test_settings(&settings, "north-shed", 2384185);
    image_encode(image, &settings, 41);
    for (int bit = 0; bit < 8 * SETTINGS_LENGTH; bit++) {
        image[bit / 8] ^= (uint8_t)(1 << (bit % 8));
        CHECK(!image_decode(image, &decoded, &generation));
        image[bit / 8] ^= (uint8_t)(1 << (bit % 8));
    }
    CHECK(image_decode(image, &decoded, &generation));
}

/*
 * The newer copy stands, the older is being written, and the power goes: in each step, with every value that the byte
 * being written could be left with.
 */
static void cut_everywhere(const uint8_t copy_before[SETTINGS_LENGTH], const struct settings *old, uint16_t generation,
                           const struct settings *new)
{
    uint8_t kept[SETTINGS_LENGTH], image[SETTINGS_LENGTH], copy[SETTINGS_LENGTH];
    image_encode(kept, old, generation);
    image_encode(image, new, (uint16_t)(generation + 1));
    memcpy(copy, copy_before, SETTINGS_LENGTH);
    for (uint8_t step = 0; step < IMAGE_STEPS; step++) {
        uint8_t offset;
        uint8_t byte = image_step(image, step, &offset);
        for (int torn = 0; torn < 256; torn++) {
            copy[offset] = (uint8_t)torn;
            struct stored stored = image_choose(kept, copy);
            CHECK(stored.status == SETTINGS_OK);
            CHECK(same(&stored.settings, old) || (same(&stored.settings, new) && memcmp(copy, image, SETTINGS_LENGTH) == 0));
        }
        copy[offset] = byte;
    }
    CHECK(memcmp(copy, image, SETTINGS_LENGTH) == 0);
    struct stored stored = image_choose(kept, copy);
    CHECK(stored.copy == 1 && stored.generation == (uint16_t)(generation + 1) && same(&stored.settings, new));
}

static void power_cut_leaves_old_or_new(void)
{
    uint8_t copy[SETTINGS_LENGTH];
    struct settings older, old, new;
    test_settings(&older, "older", 1);
    test_settings(&old, "old", 2000000);
    test_settings(&new, "new-name", -1999999);
    image_encode(copy, &older, 8);
    cut_everywhere(copy, &old, 9, &new);
    image_encode(copy, &old, 9); /* the mirror of the newest */
    cut_everywhere(copy, &old, 9, &new);
    image_encode(copy, &older, 65534);
    cut_everywhere(copy, &old, 65535, &new);
    memset(copy, 0xFF, sizeof copy);
    cut_everywhere(copy, &old, 0, &new);
    memset(copy, 0x00, sizeof copy);
    cut_everywhere(copy, &old, 0, &new);
}

/* A cut while the next boot record is written costs that one count at the most. */
static void boot_counter_survives_a_cut(void)
{
    uint8_t memory[2 * BOOT_RECORD_LENGTH];
    memset(memory, 0xFF, sizeof memory);
    for (uint32_t reset = 1; reset <= 70000; reset++) {
        struct boot_place next = boot_next(memory);
        uint8_t record[BOOT_RECORD_LENGTH];
        CHECK(next.count == (uint16_t)reset);
        boot_encode(record, next.count);
        if (reset % 997 < 3) {
            memory[next.offset] = record[0];
            memory[next.offset + 1] ^= 0x5A;
            CHECK(boot_next(memory).count == (uint16_t)reset);
        }
        memcpy(memory + next.offset, record, BOOT_RECORD_LENGTH);
    }
}

void test_image(void)
{
    every_flipped_bit_is_found();
    power_cut_leaves_old_or_new();
    boot_counter_survives_a_cut();
}
