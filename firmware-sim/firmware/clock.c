#include "clock.h"

#include <avr/interrupt.h>
#include <avr/sleep.h>
#include <util/atomic.h>

#include "board.h"

volatile uint16_t clock_ms;

/* Milliseconds since reset as far as the foreground has followed; and the seconds in them. */
static uint32_t followed_ms;
static uint32_t seconds;
static uint16_t part_of_second_ms;

/* ---- interrupt ---- */

/* Budget 90 cycles, worst 58 (how it was found: wheel.c). */
ISR(TIMER1_COMPA_vect)
{
    OCR1A += CLOCK_TICKS_PER_MS;
    clock_ms++;
    uint8_t quiet = WHEEL_QUIET_MS + 1;
    if (quiet)
        WHEEL_QUIET_MS = quiet;
}

/* ---- foreground ---- */

void clock_init(void)
{
    OCR1A = CLOCK_TICKS_PER_MS;
    TCNT1 = 0;
    TIFR1 = _BV(OCF1A);
    TIMSK1 = _BV(OCIE1A);
    TCCR1B = _BV(CS11);
    set_sleep_mode(SLEEP_MODE_IDLE);
}


uint8_t clock_wait(void)
{
    uint16_t gone;
    for (;;) {
        cli();
        gone = clock_ms - (uint16_t)followed_ms;
        if (gone)
            break;
        sleep_enable();
        sei(); /* takes effect after the next instruction, so no wake-up slips in between */
        sleep_cpu();
        sleep_disable();
    }
    sei();
    if (gone > 255)
        gone = 255;
    followed_ms += gone;
    part_of_second_ms += gone;
    if (part_of_second_ms >= 1000) {
        part_of_second_ms -= 1000;
        seconds++;
    }
    return (uint8_t)gone;
}

struct stamp clock_stamp(void)
{
    struct stamp stamp;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        stamp.ms = clock_ms;
        stamp.ticks = TCNT1;
    }
    return stamp;
}

uint32_t clock_us(struct stamp stamp)
{
    uint32_t ms = followed_ms + (uint32_t)(int32_t)(int16_t)(stamp.ms - (uint16_t)followed_ms);
    uint16_t ticks = stamp.ticks - stamp.ms * CLOCK_TICKS_PER_MS;
    return ms * 1000 + ticks / 2;
}

uint32_t clock_seconds(void) { return seconds; }
