/*
 * Board time. Timer 1 runs free at half a microsecond a tick; its compare interrupt counts milliseconds and wakes the main
 * loop. Millisecond number n begins when the timer stands at 2000 n modulo 2^16, so a pair (milliseconds, ticks) read
 * together is a time without any overflow to catch, even when the interrupt is still waiting.
 */
#ifndef CLOCK_H
#define CLOCK_H

#include <stdint.h>

#define CLOCK_TICKS_PER_MS 2000u

/* Milliseconds since reset, modulo 2^16. In the foreground read it through clock_stamp. */
extern volatile uint16_t clock_ms;

struct stamp {
    uint16_t ms;
    uint16_t ticks;
};

void clock_init(void);

/* Sleeps until the next millisecond has begun; returns how many have gone by since the last call, 1 to 255. */
uint8_t clock_wait(void);

/* Now. */
struct stamp clock_stamp(void);

/* Microseconds since reset, modulo 2^32, of a stamp not older than 32 s. */
uint32_t clock_us(struct stamp stamp);

/* Seconds since reset. */
uint32_t clock_seconds(void);

#endif
