/*
 * The wheel sensor: pulses counted in each direction, and the preset count that drops the motor inside the interrupt.
 */
#ifndef WHEEL_H
#define WHEEL_H

#include <stdbool.h>
#include <stdint.h>

#include "clock.h"

struct wheel_snapshot {
    struct stamp now;           /* when the snapshot was taken */
    struct stamp pulse;         /* newest accepted pulse */
    uint32_t forward, backward; /* pulses accepted since reset */
    uint32_t remaining;         /* forward pulses still to come until the preset count */
    bool reached;               /* the preset count was reached and not yet taken */
};

void wheel_init(void);

/* Takes settings into use. direction: as the setting of that name. */
void wheel_configure(uint16_t debounce_us, uint8_t direction);

/* A consistent view, without holding interrupts off. */
void wheel_snapshot(struct wheel_snapshot *snapshot);

/*
 * Begins counting `pulses` down and switches the motor on if asked to; false, and nothing begun, when the stop character
 * came in a moment before.
 */
bool wheel_start(uint32_t pulses, bool motor);

/* Motor off and no counting down any more. The pulses go on being counted. */
void wheel_stop(void);

/* After `reached`: takes it, with the moment and the totals of the pulse that reached the count. */
void wheel_take_reached(struct wheel_snapshot *at);

/* Edges rejected by the debounce, modulo 2^32. */
uint32_t wheel_bounced(void);

#endif
