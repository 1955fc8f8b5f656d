#include "converters.h"

#include <util/atomic.h>

#include "board.h"
#include "samples.h"

/* A converter 4 % slower than the fastest is ready 13 ms after it; one that needs longer than this is in trouble. */
#define WAIT_MS 20

/* A reading goes out 100 ms after the one before at the latest; a millisecond less, since passes are not quite even. */
#define SILENCE_LIMIT_MS 99

/* Starting the converters afresh costs all of them 50 ms of readings: not more often than this. */
#define RESTART_MS 2000

/* One that may be about to run, and a whole one: far more than the 60 us that it takes. */
#define RESTART_PASSES 2

static uint8_t fitted;  /* mask */
static struct steps steps;
static uint8_t restarting; /* passes that the clock stays high yet, to power them down */
static uint8_t waited_ms, since_ms;
static uint16_t since_restart_ms;
static uint16_t late, desync;

/* ---- the wires ---- */

/* Three quarters of a microsecond: the converter asks for 0.2 us high and low, a long cable for more. */
static inline __attribute__((always_inline)) void hold(void)
{
    __asm__ __volatile__("rjmp .+0\n\trjmp .+0\n\trjmp .+0\n\trjmp .+0\n\trjmp .+0\n\trjmp .+0");
}

/* A data line is low when its converter has a value. The level, not the edge: after a reset it may long have been low. */
static uint8_t ready(void) { return (uint8_t)~PINC & fitted; }

/*
 * One clock pulse; the data lines as they stood at its end. Interrupts are off for this one pulse (the converters power down
 * when their clock stays high for 60 us) and then as they were before.
 */
static inline uint8_t clock_pulse(void)
{
    uint8_t lines;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        PORTD |= _BV(CONVERTER_CLOCK_BIT);
        hold();
        lines = PINC;
        PORTD &= (uint8_t)~_BV(CONVERTER_CLOCK_BIT);
    }
    hold();
    return lines;
}

/*
 * The last pulse, which asks for input A at gain 128 again and puts the data lines high: the trailer bit. Looked at soon after
 * the rise and again at the end, and right if high once, for a conversion that ends in between pulls its line low again.
 */
static inline uint8_t trailer_pulse(void)
{
    uint8_t lines;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        PORTD |= _BV(CONVERTER_CLOCK_BIT);
        __asm__ __volatile__("rjmp .+0\n\trjmp .+0");
        lines = PINC;
        __asm__ __volatile__("rjmp .+0\n\trjmp .+0\n\trjmp .+0");
        lines |= PINC;
        PORTD &= (uint8_t)~_BV(CONVERTER_CLOCK_BIT);
    }
    return lines;
}

/* ---- in step ---- */

/*
 * A converter that was clocked while it became ready, or before a reset of this chip, has had a part of its 25 pulses. The
 * pulses of the next reading would complete and overrun them, and 26 or 27 select another input or gain: values that look
 * good and are wrong. Powering down and up is the one state that is known: the clock high for a pass or two.
 */
static void begin_restart(void)
{
    PORTD |= _BV(CONVERTER_CLOCK_BIT);
    restarting = RESTART_PASSES;
    since_restart_ms = 0;
}

static void end_restart(void)
{
    PORTD &= (uint8_t)~_BV(CONVERTER_CLOCK_BIT);
    steps.doubted = 0;
    steps.suspect = 0;
    waited_ms = 0;
}

/* ---- when ---- */

static uint8_t grown(uint8_t ms, uint8_t elapsed_ms) { return ms > 255 - elapsed_ms ? 255 : ms + elapsed_ms; }

/* Looked at once a pass rather than by pin change interrupts: no more wake-ups, and a reading is 1 ms late at the most. */
bool converters_due(uint8_t elapsed_ms)
{
    uint8_t now_ready;
    since_ms = grown(since_ms, elapsed_ms);
    since_restart_ms = since_restart_ms > RESTART_MS ? since_restart_ms : since_restart_ms + elapsed_ms;
    if (restarting) {
        if (--restarting == 0)
            end_restart();
        return false;
    }
    now_ready = ready();
    if (now_ready)
        waited_ms = grown(waited_ms, elapsed_ms);
    return now_ready == fitted || waited_ms > WAIT_MS || since_ms >= SILENCE_LIMIT_MS;
}

/* ---- what ---- */

static void read_bits(struct reading_bits *bits)
{
    uint8_t high = 0xFF, high_in_tail = 0xFF;
    for (uint8_t bit = 0; bit < CONVERTER_BITS; bit++) {
        uint8_t lines = clock_pulse();
        bits->samples[bit] = lines;
        high &= lines;
        if (bit >= CONVERTER_BITS / 2)
            high_in_tail &= lines;
    }
    uint8_t trailer = trailer_pulse();
    bits->low_at_trailer = (uint8_t)~trailer;
    bits->low_in_tail = (uint8_t)~high_in_tail;
    bits->low_at_all = (uint8_t)~(high & trailer & PINC);
}

void converters_read(struct conversion *conversion)
{
    struct reading_bits bits;
    uint8_t asked = ready();
    uint8_t absent = fitted & (uint8_t)~asked;

    if (absent)
        late++;
    if (asked) {
        read_bits(&bits);
        samples_judge(&steps, &bits, asked, absent);
        if (steps.doubted & asked)
            desync++;
    }
    conversion->missing = absent | steps.doubted | steps.suspect;
    conversion->fault = conversion->missing != 0;
    for (uint8_t cell = 0, mask = 1; fitted & mask; cell++, mask <<= 1)
        if (!(conversion->missing & mask))
            conversion->counts[cell] = samples_value(bits.samples, mask);
    if (steps.suspect && since_restart_ms > RESTART_MS)
        begin_restart();
    waited_ms = 0;
    since_ms = 0;
}

/* ---- start-up and figures ---- */

void converters_configure(uint8_t cells)
{
    fitted = (uint8_t)((1u << cells) - 1);
    begin_restart();
    since_restart_ms = RESTART_MS + 1; /* the first one that proves to be needed need not wait */
}

uint16_t converters_late(void) { return late; }
uint16_t converters_desync(void) { return desync; }
