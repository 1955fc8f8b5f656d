#include "converters.h"

#include <util/atomic.h>

#include "board.h"
#include "samples.h"

/* A converter 4 % slower than the fastest is ready 13 ms after it; one that needs longer than this is in trouble. */
#define WAIT_MS 20u

/* A reading goes out 100 ms after the one before at the latest; a millisecond less, since passes are not quite even. */
#define SILENCE_LIMIT_MS 99u

/* 24 bits and one more pulse: channel A at gain 128 for the next conversion, and the trailer bit, which is high. */
#define PULSE_CYCLES 12

static uint8_t fitted;    /* mask */
static uint8_t disturbed; /* mask: clocked while it was becoming ready, its next value is not to be believed */
static uint8_t waited_ms, since_ms;
static uint16_t late, desync;

/* ---- the wires ---- */

/* A data line is low when its converter has a value. The level, not the edge: after a reset it may long have been low. */
static uint8_t ready(void) { return (uint8_t)~PINC & fitted; }

/*
 * One clock pulse; the data lines as they stood at its end. Interrupts are off for this one pulse (the converters power down
 * when their clock stays high for 60 us) and then as they were before.
 * BUDGET_PULSE
 */
static inline uint8_t clock_pulse(void)
{
    uint8_t lines;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        PORTD |= _BV(CONVERTER_CLOCK_BIT);
        __builtin_avr_delay_cycles(PULSE_CYCLES);
        lines = PINC;
        PORTD &= (uint8_t)~_BV(CONVERTER_CLOCK_BIT);
    }
    __builtin_avr_delay_cycles(PULSE_CYCLES);
    return lines;
}

/* ---- when ---- */

bool converters_due(uint8_t elapsed_ms)
{
    uint8_t now_ready = ready();
    since_ms = since_ms > 255 - elapsed_ms ? 255 : since_ms + elapsed_ms;
    if (now_ready)
        waited_ms = waited_ms > 255 - elapsed_ms ? 255 : waited_ms + elapsed_ms;
    return now_ready == fitted || waited_ms > WAIT_MS || since_ms >= SILENCE_LIMIT_MS;
}

/* ---- what ---- */

/*
 * All converters see every clock pulse, also one that is not ready. While its line is high that does nothing to it; but if
 * it becomes ready during these 25 pulses, the rest of them eat bits of its new value. Its line, high at the start and low
 * at any pulse, tells: that value is not used, and neither is the next, which may be what is left of it.
 */
void converters_read(struct conversion *conversion)
{
    uint8_t samples[CONVERTER_BITS];
    uint8_t asked = ready();
    uint8_t always_high = 0xFF;
    for (uint8_t bit = 0; bit < CONVERTER_BITS; bit++) {
        samples[bit] = clock_pulse();
        always_high &= samples[bit];
    }
    uint8_t out_of_step = (uint8_t)~clock_pulse() & asked;
    uint8_t absent = fitted & (uint8_t)~asked;

    conversion->missing = absent | out_of_step | (disturbed & fitted);
    conversion->fault = conversion->missing != 0;
    if (absent)
        late++;
    if (out_of_step)
        desync++;
    disturbed = absent & (uint8_t)~always_high;
    for (uint8_t cell = 0, mask = 1; fitted & mask; cell++, mask <<= 1)
        conversion->counts[cell] = samples_value(samples, mask);
    waited_ms = 0;
    since_ms = 0;
}

/* ---- start-up and figures ---- */

void converters_configure(uint8_t cells)
{
    fitted = (uint8_t)((1u << cells) - 1);
    disturbed = 0;
}

uint16_t converters_late(void) { return late; }
uint16_t converters_desync(void) { return desync; }
