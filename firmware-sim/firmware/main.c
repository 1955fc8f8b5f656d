/*
 * The stand's main loop: one pass a millisecond, asleep in between. What cannot wait for a pass is done in the interrupts of
 * wheel.c (preset count) and serial.c (stop character).
 */
#include <avr/interrupt.h>
#include <avr/wdt.h>

#include "board.h"
#include "clock.h"
#include "configuration.h"
#include "dispatch.h"
#include "health.h"
#include "lamp.h"
#include "outbox.h"
#include "readings.h"
#include "run.h"
#include "serial.h"
#include "store.h"
#include "wheel.h"

static void pass(uint8_t elapsed_ms)
{
    store_task();
    run_task(elapsed_ms);
    serial_task();
    dispatch_task();
    readings_task(elapsed_ms);
    lamp_task(elapsed_ms);
    outbox_task();
}

int main(void)
{
    board_init();
    serial_init();
    clock_init();
    configuration_init();
    wheel_init();
    run_init();
    outbox_init();
    sei();
    for (;;) {
        /* Fed only here: a loop that hangs, or a clock that stands, ends in a reset, and the motor pin with it. */
        uint8_t elapsed_ms = clock_wait();
        wdt_reset();
        health_pass_begins();
        pass(elapsed_ms);
        health_pass_ends(elapsed_ms);
    }
}
