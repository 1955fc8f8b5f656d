#include "wheel.h"

#include <avr/interrupt.h>
#include <util/atomic.h>

#include "board.h"
#include "debounce.h"

static volatile uint8_t generation; /* changes with every edge: lets the foreground see that it was interrupted */
static volatile uint16_t last_edge_ticks;
static volatile uint16_t debounce_ticks;
static volatile uint8_t direction_mask; /* 0 without a direction sensor */
static volatile uint8_t direction_flip; /* level of B, in place, that means forward is reversed */

static volatile uint32_t remaining;
static volatile uint32_t forward;
static volatile uint32_t backward;
static volatile uint32_t bounced;
static volatile uint16_t pulse_ms;
static volatile uint16_t pulse_ticks;

static struct wheel_snapshot reached_at;

/* ---- interrupt ---- */

/* The count is complete: the motor first, then what the foreground wants to know. */
static inline void reached_isr(uint16_t now)
{
    board_motor_off();
    FLAGS &= (uint8_t)~_BV(FLAG_LAST);
    FLAGS &= (uint8_t)~_BV(FLAG_COUNTING);
    FLAGS |= _BV(FLAG_REACHED);
    reached_at.pulse.ms = clock_ms;
    reached_at.pulse.ticks = now;
    reached_at.forward = forward + 1;
    reached_at.backward = backward;
}

/* The pulse before the last one says that the next is: then nothing need be subtracted before the motor drops. */
static inline void forward_isr(uint16_t now)
{
    if (FLAGS & _BV(FLAG_LAST)) {
        reached_isr(now);
        remaining = 0;
    }
    if (FLAGS & _BV(FLAG_COUNTING)) {
        uint32_t left = remaining - 1;
        remaining = left;
        if (left == 1)
            FLAGS |= _BV(FLAG_LAST);
    }
    forward++;
}

static inline void backward_isr(void)
{
    FLAGS &= (uint8_t)~_BV(FLAG_LAST);
    if (FLAGS & _BV(FLAG_COUNTING))
        remaining++;
    backward++;
}

/*
 * Budget 260 cycles, worst 257; to the motor pin: budget 80, worst 80.
 *
 * Worst cases here and above the other interrupts are the longest way through the instructions, entry and return included;
 * tests/firmware/cycles.test.ts counts them again and adds up what can lie between an edge and the motor pin: the longest of
 * the other interrupts, one stretch of the foreground with interrupts off, one instruction, and this. At most 200 cycles.
 */
ISR(INT0_vect)
{
    uint8_t pins = PIND;
    uint16_t now = TCNT1;
    uint16_t quiet_ticks = now - last_edge_ticks;
    enum edge edge = debounce_edge(pins & _BV(WHEEL_A_BIT), FLAGS & _BV(FLAG_WHEEL_HIGH), quiet_ticks, WHEEL_QUIET_MS,
                                   debounce_ticks);
    if (edge == EDGE_PULSE) {
        if ((pins & direction_mask) == direction_flip)
            forward_isr(now);
        else
            backward_isr();
        pulse_ms = clock_ms;
        pulse_ticks = now;
    } else if (edge == EDGE_BOUNCED) {
        bounced++;
    }
    if (pins & _BV(WHEEL_A_BIT))
        FLAGS |= _BV(FLAG_WHEEL_HIGH);
    else
        FLAGS &= (uint8_t)~_BV(FLAG_WHEEL_HIGH);
    last_edge_ticks = now;
    WHEEL_QUIET_MS = 0;
    generation++;
}

/* ---- foreground ---- */

void wheel_init(void)
{
    if (PIND & _BV(WHEEL_A_BIT))
        FLAGS |= _BV(FLAG_WHEEL_HIGH);
    EICRA = _BV(ISC00); /* any change */
    EIFR = _BV(INTF0);
    EIMSK = _BV(INT0);
}

void wheel_configure(uint16_t debounce_us, uint8_t direction)
{
    uint16_t ticks = debounce_us * TICKS_PER_US;
    uint8_t mask = direction ? _BV(WHEEL_B_BIT) : 0;
    uint8_t flip = direction == 2 ? _BV(WHEEL_B_BIT) : 0;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        debounce_ticks = ticks;
        direction_mask = mask;
        direction_flip = flip;
    }
}

/* Copies without a lock, and again if an edge came in between: locked, the copy would hold a pulse back for 100 cycles. */
void wheel_snapshot(struct wheel_snapshot *snapshot)
{
    uint8_t begun;
    do {
        begun = generation;
        snapshot->now = clock_stamp();
        snapshot->pulse.ms = pulse_ms;
        snapshot->pulse.ticks = pulse_ticks;
        snapshot->forward = forward;
        snapshot->backward = backward;
        snapshot->remaining = remaining;
        snapshot->reached = FLAGS & _BV(FLAG_REACHED);
    } while (begun != generation);
}

bool wheel_start(uint32_t pulses, bool motor)
{
    bool started = false;
    bool last = pulses == 1;
    remaining = pulses; /* nothing counts now, so no interrupt touches it */
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        if (!(FLAGS & _BV(FLAG_HOST_STOP))) {
            FLAGS |= _BV(FLAG_COUNTING);
            if (last)
                FLAGS |= _BV(FLAG_LAST);
            if (motor)
                board_motor_on();
            started = true;
        }
    }
    return started;
}

/* In this order: once nothing counts, no pulse can set the flag again. */
void wheel_stop(void)
{
    board_motor_off();
    FLAGS &= (uint8_t)~_BV(FLAG_COUNTING);
    FLAGS &= (uint8_t)~_BV(FLAG_LAST);
}

void wheel_take_reached(struct wheel_snapshot *at)
{
    FLAGS &= (uint8_t)~_BV(FLAG_REACHED);
    *at = reached_at;
}

uint32_t wheel_bounced(void)
{
    uint32_t count;
    uint8_t begun;
    do {
        begun = generation;
        count = bounced;
    } while (begun != generation);
    return count;
}
