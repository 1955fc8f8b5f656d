#include "reset.h"

#include <avr/interrupt.h>
#include <avr/wdt.h>

#include "board.h"

#define PAINT 0xC5

extern uint8_t _end; /* first byte after the variables, from the linker */

static uint8_t cause __attribute__((section(".noinit")));

/* A watchdog reset leaves the watchdog running at its shortest time, so it is set again here, before the variables. */
void reset_first(void) __attribute__((naked, used, section(".init3")));
void reset_first(void)
{
    PORTB = 0;
    DDRB = _BV(MOTOR_BIT);
    cause = MCUSR;
    MCUSR = 0;
    wdt_enable(WDTO_120MS);
    for (uint8_t *at = &_end; at < (uint8_t *)RAMEND - 1; at++)
        *at = PAINT;
}

/* An interrupt that nobody serves is a fault of the program: motor off, and the watchdog ends it. */
ISR(BADISR_vect)
{
    board_motor_off();
    for (;;)
        continue;
}

uint8_t reset_cause(void) { return cause & 0x0F; }

uint16_t reset_stack_unused(void)
{
    const uint8_t *at = &_end;
    while (at < (const uint8_t *)RAMEND && *at == PAINT)
        at++;
    return (uint16_t)(at - &_end);
}
