/*
 * A two-wire 24-bit load-cell converter of the HX711 class, written from its data sheet (Avia Semiconductor, 'Serial
 * Interface') and apart from the one in firmware-sim/board, so that a mistake in either shows.
 */
#ifndef CONVERTER_H
#define CONVERTER_H

#include <stdbool.h>
#include <stdint.h>

struct converter {
    bool data_high;
    uint8_t pulses;    /* of the reading under way, 0 when there is none */
    uint8_t unsettled; /* conversions that are not given out yet */
    int32_t value;     /* of the newest conversion given out */
};

/* As after power-up, or after the clock line was high for 60 us. */
void converter_power_up(struct converter *converter);

/* A conversion ends with `value`. It is lost when it falls into a reading. */
void converter_complete(struct converter *converter, int32_t value);

/* The clock line rises. */
void converter_clock_rises(struct converter *converter);

#endif
