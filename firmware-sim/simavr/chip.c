#include "chip.h"

#include <avr_eeprom.h>
#include <avr_extint.h>
#include <avr_ioport.h>
#include <math.h>
#include <sim_hex.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "converter.h"

/* Pins as firmware-sim/firmware/board.h has them. */
#define WHEEL_A_PIN 2
#define STOP_PIN 3
#define WHEEL_B_PIN 4
#define CLOCK_PIN 5
#define MOTOR_PIN 0
#define LAMP_PIN 1

/* A clock line that stays high for longer than 60 us powers the converters down. */
#define POWER_DOWN_CYCLES (60 * (CYCLES_PER_SECOND / 1000000))

/* SBI and CBI take two cycles; simavr tells of the change at their start. */
#define OUTPUT_CYCLES 2

/* Cycles that simavr runs in one go when no event of its own comes sooner. */
#define MOST_CYCLES_AT_ONCE 16000

/* Data address and bits of the EEPROM's control register. */
#define EECR 0x3F
#define EERE 0x01
#define EEPE 0x02

/* To erase and write a byte: 3.6 ms, as on the project's own board. */
#define BYTE_WRITE_CYCLES 57600

#define FLASH_BYTES 32768
#define EEPROM_BYTES 1024

struct cell {
    struct converter converter;
    bool fitted;
    double period; /* cycles */
    double due;    /* cycle, with fraction */
    int32_t value;
};

static struct cell cells[CELLS_MAX];
static bool clock_high, powered_down;
static bool motor, lamp;
static uint8_t inputs_d = 1 << STOP_PIN | 1; /* the serial line rests high */
static avr_t *chip;
static motor_listener on_motor;

/* ---- pins ---- */

static avr_irq_t *pin(char port, int number) { return avr_io_getirq(chip, AVR_IOCTL_IOPORT_GETIRQ(port), number); }

/* An input keeps its level only if simavr is told of it as an outer pull: it sets inputs anew at every write to the port. */
static void drive(char port, uint8_t mask, uint8_t levels)
{
    avr_ioport_external_t outer = {.name = (unsigned char)port, .mask = mask, .value = levels};
    avr_ioctl(chip, AVR_IOCTL_IOPORT_SET_EXTERNAL(port), &outer);
    for (int number = 0; number < 8; number++)
        if (mask & 1 << number)
            avr_raise_irq(pin(port, number), levels >> number & 1);
}

static void drive_d(void) { drive('D', 1 << WHEEL_A_PIN | 1 << STOP_PIN | 1 << WHEEL_B_PIN, inputs_d); }

static void set_input(int number, bool high)
{
    inputs_d = (uint8_t)(high ? inputs_d | 1 << number : inputs_d & ~(1 << number));
}

/* The direction first, as it stands before the pulse line changes. */
void chip_wheel(int a, int b)
{
    set_input(WHEEL_B_PIN, b);
    drive_d();
    set_input(WHEEL_A_PIN, a);
    drive_d();
}

void chip_stop_contact(bool open)
{
    set_input(STOP_PIN, open);
    drive_d();
}

/* ---- converters ---- */

/* Lines of converters that are not fitted are pulled up. */
static void report_data(void)
{
    uint8_t levels = 0;
    for (int cell = 0; cell < CELLS_MAX; cell++)
        if (!cells[cell].fitted || cells[cell].converter.data_high)
            levels |= (uint8_t)(1 << cell);
    drive('C', 0x3F, levels);
}

static avr_cycle_count_t convert(avr_t *avr, avr_cycle_count_t when, void *which)
{
    struct cell *cell = which;
    (void)avr;
    (void)when;
    converter_complete(&cell->converter, cell->value);
    cell->due += cell->period;
    report_data();
    return (avr_cycle_count_t)ceil(cell->due);
}

static void plan(struct cell *cell)
{
    cell->due = (double)chip->cycle + cell->period;
    avr_cycle_timer_cancel(chip, convert, cell);
    avr_cycle_timer_register(chip, (avr_cycle_count_t)ceil(cell->due) - chip->cycle, convert, cell);
}

static void power_up(void)
{
    powered_down = false;
    for (struct cell *cell = cells; cell < cells + CELLS_MAX; cell++) {
        if (!cell->fitted)
            continue;
        converter_power_up(&cell->converter);
        plan(cell);
    }
    report_data();
}

static avr_cycle_count_t power_down(avr_t *avr, avr_cycle_count_t when, void *unused)
{
    (void)when;
    (void)unused;
    powered_down = true;
    for (struct cell *cell = cells; cell < cells + CELLS_MAX; cell++) {
        avr_cycle_timer_cancel(avr, convert, cell);
        converter_power_up(&cell->converter);
    }
    report_data();
    return 0;
}

static void clock_changed(struct avr_irq_t *irq, uint32_t value, void *unused)
{
    (void)irq;
    (void)unused;
    if (clock_high == (value & 1))
        return;
    clock_high = value & 1;
    if (clock_high) {
        for (struct cell *cell = cells; cell < cells + CELLS_MAX; cell++)
            converter_clock_rises(&cell->converter);
        avr_cycle_timer_register(chip, POWER_DOWN_CYCLES, power_down, NULL);
        report_data();
    } else if (powered_down) {
        power_up();
    } else {
        avr_cycle_timer_cancel(chip, power_down, NULL);
    }
}

void chip_cell(avr_t *avr, unsigned cell, double period, int32_t value)
{
    (void)avr;
    cells[cell].value = value;
    if (period <= 0)
        return;
    cells[cell].period = period;
    if (cells[cell].fitted)
        return;
    cells[cell].fitted = true;
    converter_power_up(&cells[cell].converter);
    plan(&cells[cell]);
    report_data();
}

uint64_t chip_conversion_due(unsigned cell)
{
    return cells[cell].fitted && !powered_down ? (uint64_t)ceil(cells[cell].due) : UINT64_MAX;
}

/* ---- outputs ---- */

static void motor_changed(struct avr_irq_t *irq, uint32_t value, void *unused)
{
    (void)irq;
    (void)unused;
    if (motor == (value & 1))
        return;
    motor = value & 1;
    on_motor(motor, chip->cycle + OUTPUT_CYCLES);
}

static void lamp_changed(struct avr_irq_t *irq, uint32_t value, void *unused)
{
    (void)irq;
    (void)unused;
    lamp = value & 1;
}

bool chip_motor(void) { return motor; }
bool chip_lamp(void) { return lamp; }

/* ---- mends ---- */

static avr_cycle_count_t byte_written(avr_t *avr, avr_cycle_count_t when, void *unused)
{
    (void)when;
    (void)unused;
    avr->data[EECR] &= (uint8_t)~EEPE;
    return 0;
}

/*
 * Reading a byte of the EEPROM halts the chip for four cycles, starting to write one for two, and then EEPE stays set until the
 * byte is written (data sheet 8.6.3). simavr knows none of this. Comes after simavr's own handling of the same write.
 */
static void eeprom_controlled(struct avr_t *avr, avr_io_addr_t address, uint8_t value, void *unused)
{
    (void)unused;
    (void)address;
    if (value & EERE)
        avr->cycle += 4;
    else if (value & EEPE) {
        avr->cycle += 2;
        avr->data[EECR] |= EEPE;
        avr_cycle_timer_register(avr, BYTE_WRITE_CYCLES, byte_written, NULL);
    }
}

/* ---- start-up ---- */

static void fail(const char *what, const char *path)
{
    fprintf(stderr, "%s: %s\n", path, what);
    exit(1);
}

static void load_program(const char *path)
{
    ihex_chunk_p chunks = NULL;
    int count = read_ihex_chunks(path, &chunks);
    if (count <= 0)
        fail("no program could be read from it", path);
    for (int i = 0; i < count; i++) {
        if (chunks[i].baseaddr + chunks[i].size > FLASH_BYTES)
            fail("does not fit into the flash", path);
        avr_loadcode(chip, chunks[i].data, chunks[i].size, chunks[i].baseaddr);
        chip->codeend = chunks[i].baseaddr + chunks[i].size;
    }
    free_ihex_chunks(chunks);
}

static void load_eeprom(const char *path)
{
    uint8_t bytes[EEPROM_BYTES];
    avr_eeprom_desc_t all = {.ee = bytes, .offset = 0, .size = sizeof bytes};
    FILE *file = fopen(path, "rb");
    if (!file || fread(bytes, 1, sizeof bytes, file) != sizeof bytes)
        fail("is not an EEPROM of 1024 bytes", path);
    fclose(file);
    avr_ioctl(chip, AVR_IOCTL_EEPROM_SET, &all);
}

/* simavr lets the host sleep; here time passes as fast as the host can run, and the caller paces it. */
static void no_sleep(avr_t *avr, avr_cycle_count_t how_long)
{
    (void)avr;
    (void)how_long;
}

avr_t *chip_make(const char *hex_path, const char *eeprom_path, motor_listener listener)
{
    chip = avr_make_mcu_by_name("atmega328p");
    if (!chip)
        fail("unknown to this simavr", "atmega328p");
    avr_init(chip);
    chip->frequency = CYCLES_PER_SECOND;
    chip->log = LOG_ERROR;
    chip->sleep = no_sleep;
    chip->run_cycle_limit = MOST_CYCLES_AT_ONCE;
    on_motor = listener;
    load_program(hex_path);
    load_eeprom(eeprom_path);
    /* simavr takes a low INT0 pin for a level interrupt even when edges are asked for, unless told not to. */
    avr_extint_set_strict_lvl_trig(chip, 0, 0);
    avr_register_io_write(chip, EECR, eeprom_controlled, NULL);
    avr_irq_register_notify(pin('D', CLOCK_PIN), clock_changed, NULL);
    avr_irq_register_notify(pin('B', MOTOR_PIN), motor_changed, NULL);
    avr_irq_register_notify(pin('B', LAMP_PIN), lamp_changed, NULL);
    set_input(STOP_PIN, false);
    drive_d();
    report_data();
    return chip;
}

void chip_run(avr_t *avr, uint64_t cycle)
{
    while (avr->cycle < cycle) {
        int state = avr_run(avr);
        if (state == cpu_Done || state == cpu_Crashed) {
            fprintf(stderr, "the program ended in state %d at cycle %llu\n", state, (unsigned long long)avr->cycle);
            exit(1);
        }
    }
}
