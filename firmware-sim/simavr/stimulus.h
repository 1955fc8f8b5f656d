/*
 * What happens to the stand, one line each, cycles since power-up first and never going back:
 *
 *   <cycle> wheel <a> <b>                  levels of the wheel sensor's lines, 0 or 1
 *   <cycle> stop <0|1>                     the stop contact: 1 is open
 *   <cycle> cell <n> <period> <value>      converter n (0 to 5) ends a conversion of `value` every `period` cycles;
 *                                          period 0 leaves it as it was
 *   <cycle> say <hex>                      the host sends these bytes, two digits each
 *   <cycle> run                            nothing but the time
 */
#ifndef STIMULUS_H
#define STIMULUS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define SAY_BYTES_MAX 512

enum stimulus_kind { STIMULUS_WHEEL, STIMULUS_STOP, STIMULUS_CELL, STIMULUS_SAY, STIMULUS_RUN };

struct stimulus {
    uint64_t cycle;
    enum stimulus_kind kind;
    int a, b;         /* wheel; a: stop */
    unsigned cell;    /* cell */
    double period;    /* cell */
    int32_t value;    /* cell */
    size_t count;     /* say */
    uint8_t bytes[SAY_BYTES_MAX];
};

/* Reads one line; false when it is none of these. */
bool stimulus_read(const char *line, struct stimulus *stimulus);

#endif
