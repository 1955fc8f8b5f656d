#include "health.h"

#include "clock.h"
#include "converters.h"
#include "dispatch.h"
#include "outbox.h"
#include "reset.h"
#include "serial.h"
#include "store.h"
#include "wheel.h"

#define EVERY_MS 2000u

static uint16_t begun_ticks, worst_ticks, passes;
static uint32_t sum_ticks;
static uint16_t since_ms;

void health_pass_begins(void) { begun_ticks = clock_stamp().ticks; }

/* A pass takes far less than the 32 ms that the ticks can tell. */
void health_pass_ends(uint8_t elapsed_ms)
{
    uint16_t ticks = clock_stamp().ticks - begun_ticks;
    sum_ticks += ticks;
    passes++;
    if (ticks > worst_ticks)
        worst_ticks = ticks;
    since_ms += elapsed_ms;
    if (since_ms >= EVERY_MS) {
        since_ms -= EVERY_MS;
        outbox_health();
    }
}

void health_collect(struct health *health)
{
    health->up_s = clock_seconds();
    health->loop_mean_us = passes ? (uint16_t)(sum_ticks / passes / 2) : 0;
    health->loop_worst_us = worst_ticks / 2;
    health->rx_lost = serial_lost();
    health->rx_bad = dispatch_bad_lines();
    health->tx_lost = outbox_lost();
    health->late = converters_late();
    health->desync = converters_desync();
    health->bounced = wheel_bounced();
    health->stack_bytes = reset_stack_unused();
    health->boot = store_boot();
    health->reset_cause = reset_cause();
    sum_ticks = 0;
    passes = 0;
    worst_ticks = 0;
}
