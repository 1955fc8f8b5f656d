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
static uint8_t image_at = IMAGE_STEPS + 1; /* next step; one more when finished */
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
    uint8_t records[BOOT_LENGTH];
    read_bytes(BOOT_RECORDS, records, BOOT_LENGTH);
    struct boot_place place = boot_next(records);
    boot_count = place.count;
    boot_address = BOOT_RECORDS + place.offset;
    boot_encode(boot_record, boot_count);
    boot_step = 0;
}

/* A copy that is not as the one that counts (a bad one, or what a power cut left) is written again from it. */
enum settings_status store_load(struct settings *settings)
{
    uint8_t other[SETTINGS_LENGTH];
    EECR = 0;
    load_boot();
    read_bytes(SETTINGS_COPY_A, image, SETTINGS_LENGTH);
    read_bytes(SETTINGS_COPY_B, other, SETTINGS_LENGTH);
    struct stored stored = image_choose(image, other);
    *settings = stored.settings;
    current = stored.copy;
    generation = stored.generation;
    if (stored.status == SETTINGS_OK) {
        image_encode(image, &stored.settings, generation);
        if (!copy_is_image(!current))
            begin_copy(!current);
    }
    return stored.status;
}

uint16_t store_boot(void) { return boot_count; }
