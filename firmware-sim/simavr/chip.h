/*
 * The chip in simavr, and what is soldered to its pins: converters, wheel sensor, stop contact, motor and lamp.
 */
#ifndef CHIP_H
#define CHIP_H

#include <sim_avr.h>
#include <stdbool.h>
#include <stdint.h>

#define CYCLES_PER_SECOND 16000000u
#define CELLS_MAX 6

/* Called when the motor output changes, with the cycle at the end of the instruction that changed it. */
typedef void (*motor_listener)(bool on, uint64_t cycle);

/* Makes the chip with that program and that EEPROM (1 KiB). Ends the program with a sentence when a file cannot be read. */
avr_t *chip_make(const char *hex_path, const char *eeprom_path, motor_listener listener);

/* Runs to `cycle`, at most one instruction or one event further. */
void chip_run(avr_t *avr, uint64_t cycle);

void chip_wheel(int a, int b);
void chip_stop_contact(bool open);

/* From now on this cell's converter ends a conversion every `period` cycles; 0 leaves it as it was. */
void chip_cell(avr_t *avr, unsigned cell, double period, int32_t value);

/* Cycle of the next conversion of a cell, UINT64_MAX when it makes none. */
uint64_t chip_conversion_due(unsigned cell);

bool chip_motor(void);
bool chip_lamp(void);

#endif
