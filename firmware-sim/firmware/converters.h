/*
 * One to six two-wire 24-bit load-cell converters on one clock line, their data lines on PC0 .. PC5.
 */
#ifndef CONVERTERS_H
#define CONVERTERS_H

#include <stdbool.h>
#include <stdint.h>

#include "settings.h"

struct conversion {
    int32_t counts[CELLS_MAX];
    uint8_t missing; /* bit n set: converter n gave no value */
    bool fault;      /* one was late or out of step */
};

void converters_configure(uint8_t cells);

/* To be called once a pass with the milliseconds gone by. True when a reading is due now. */
bool converters_due(uint8_t elapsed_ms);

/* Reads every fitted converter that is ready. */
void converters_read(struct conversion *conversion);

/* Readings in which one was not ready in time; in which a trailer bit was wrong. Modulo 2^16. */
uint16_t converters_late(void);
uint16_t converters_desync(void);

#endif
