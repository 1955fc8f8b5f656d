#include "store.h"

#include <avr/io.h>
#include <util/atomic.h>

#include "image.h"

#define BOOT_RECORDS 0x000

static const __flash uint16_t copies[2] = {SETTINGS_COPY_A, SETTINGS_COPY_B};

static uint16_t boot_count;
static uint8_t boot_record[BOOT_RECORD_LENGTH];
static uint16_t boot_address;
static uint8_t boot_step = BOOT_RECORD_LENGTH; /* bytes of the record written */

static uint8_t image[SETTINGS_LENGTH];
static uint8_t current; /* the copy that counts */
static uint16_t generation;
static uint8_t target; /* the copy being written */
static uint8_t image_at = IMAGE_STEPS;
static enum save_progress progress = SAVE_DONE;

/* ---- bytes ---- */

static bool writing(void) { return EECR & _BV(EEPE); }

static uint8_t read_byte(uint16_t address)
{
    EEAR = address;
    EECR |= _BV(EERE);
    return EEDR;
}

/* Begins to write a byte that differs; takes 3.4 ms. True when it began. The lock spans the four cycles that EEPE allows. */
static bool change_byte(uint16_t address, uint8_t byte)
{
    if (read_byte(address) == byte)
        return false;
    EEDR = byte;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        EECR |= _BV(EEMPE);
        EECR |= _BV(EEPE);
    }
    return true;
}

static void read_bytes(uint16_t address, uint8_t *to, uint8_t length)
{
    while (length--)
        *to++ = read_byte(address++);
}

/* True when the copy reads as the image. */
static bool copy_is_image(uint8_t copy)
{
    for (uint8_t i = 0; i < SETTINGS_LENGTH; i++)
        if (read_byte(copies[copy] + i) != image[i])
            return false;
    return true;
}

/* ---- writing ---- */

static void begin_copy(uint8_t copy)
{
    target = copy;
    image_at = 0;
}

/* The copy is complete. After a save the other copy follows, so that a later bad bit in one does not bring back old values. */
static void finish_copy(void)
{
    bool good = copy_is_image(target);
    if (progress == SAVE_BUSY) {
        progress = good ? SAVE_DONE : SAVE_FAILED;
        if (good) {
            current = target;
            begin_copy(!target);
        }
    }
}

void store_task(void)
{
    if (writing())
        return;
    while (boot_step < BOOT_RECORD_LENGTH) {
        uint8_t step = boot_step++;
        if (change_byte(boot_address + step, boot_record[step]))
            return;
    }
    while (image_at < IMAGE_STEPS) {
        uint8_t offset;
        uint8_t byte = image_step(image, image_at++, &offset);
        if (change_byte(copies[target] + offset, byte))
            return;
    }
    if (image_at == IMAGE_STEPS) {
        image_at++;
        finish_copy();
    }
}

void store_save(const struct settings *settings)
{
    generation++;
    image_encode(image, settings, generation);
    progress = SAVE_BUSY;
    begin_copy(!current);
}

enum save_progress store_progress(void) { return progress; }

/* ---- start-up ---- */

static void load_boot(void)
{
    uint16_t counts[2];
    bool good[2];
    uint8_t newest = 0;
    for (uint8_t i = 0; i < 2; i++) {
        read_bytes(BOOT_RECORDS + i * BOOT_RECORD_LENGTH, boot_record, BOOT_RECORD_LENGTH);
        good[i] = boot_decode(boot_record, &counts[i]);
    }
    if (good[1] && (!good[0] || image_not_older(counts[1], counts[0])))
        newest = 1;
    boot_count = good[newest] ? counts[newest] + 1 : 1;
    boot_encode(boot_record, boot_count);
    boot_address = BOOT_RECORDS + !newest * BOOT_RECORD_LENGTH;
    boot_step = 0;
}

enum settings_status store_load(struct settings *settings)
{
    bool good[2], blank = true;
    uint16_t generations[2];
    EECR = 0;
    load_boot();
    for (uint8_t copy = 0; copy < 2; copy++) {
        read_bytes(copies[copy], image, SETTINGS_LENGTH);
        good[copy] = image_decode(image, settings, &generations[copy]);
        blank &= image_blank(image);
    }
    image_at = IMAGE_STEPS + 1;
    current = good[1] && (!good[0] || !image_not_older(generations[0], generations[1]));
    if (!good[current]) {
        settings_defaults(settings);
        return blank ? SETTINGS_BLANK : SETTINGS_CORRUPT;
    }
    read_bytes(copies[current], image, SETTINGS_LENGTH);
    image_decode(image, settings, &generation);
    if (!copy_is_image(!current))
        begin_copy(!current);
    return SETTINGS_OK;
}

uint16_t store_boot(void) { return boot_count; }
