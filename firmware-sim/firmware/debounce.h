/*
 * The decision about one edge of the pulse line. Pure: compiles on the board and on a host.
 */
#ifndef DEBOUNCE_H
#define DEBOUNCE_H

#include <stdbool.h>
#include <stdint.h>

/* A tick of the free-running timer is half a microsecond. */
#define TICKS_PER_US 2u

/* Whole milliseconds of quiet after which the line has been quiet for longer than any debounce time (20 ms). */
#define LONG_QUIET_MS 25u

enum edge { EDGE_FALLING, EDGE_PULSE, EDGE_BOUNCED };

/*
 * Rising edges count when the line was low and had been quiet (no edge of either kind) for the debounce time. The level is
 * read after the edge: a line found high that was high before has made a spike downwards, which is no pulse. A line found low
 * that was low before has risen and fallen again within those few microseconds, as chatter does: if it had been quiet, that
 * rise counts, for the next one will come too soon to.
 *
 * high, was_high: level now and after the edge before.
 * quiet_ticks: since the edge before, modulo 2^16. quiet_ms: the same in whole milliseconds, saturating.
 */
static inline enum edge debounce_edge(bool high, bool was_high, uint16_t quiet_ticks, uint8_t quiet_ms,
                                      uint16_t debounce_ticks)
{
    if (was_high)
        return high ? EDGE_BOUNCED : EDGE_FALLING;
    return quiet_ms >= LONG_QUIET_MS || quiet_ticks >= debounce_ticks ? EDGE_PULSE : EDGE_BOUNCED;
}

#endif
