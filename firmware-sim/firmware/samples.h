/*
 * Port samples taken at each clock pulse into the values of the converters. Pure: compiles on the board and on a host.
 */
#ifndef SAMPLES_H
#define SAMPLES_H

#include <stdint.h>

#define CONVERTER_BITS 24

/* One reading of all lines, and at which of them something was low. Masks: bit n for converter n. */
struct reading_bits {
    uint8_t samples[CONVERTER_BITS];
    uint8_t low_at_all;     /* at any pulse, or just after the last */
    uint8_t low_in_tail;    /* at any of the last twelve bits */
    uint8_t low_at_trailer; /* at the 25th pulse */
};

/* Who is in step with the clock. Masks. */
struct steps {
    uint8_t doubted; /* its newest reading ended with a wrong trailer bit */
    uint8_t suspect; /* out of step: not to be believed before all are powered down and up */
};

/*
 * Judges who is in step after a reading for which `asked` were ready and `absent` were not. Neither the doubted nor the
 * suspect are to be believed afterwards.
 *
 * All converters see every clock pulse, also one that is not ready. While its line is high that does nothing to it; but if
 * it becomes ready during these 25 pulses, the rest of them eat bits of its value: its line, high at the start and low at
 * any pulse or just after, tells, and it is suspect.
 *
 * A low trailer bit comes from a converter that has missed a pulse, or from one whose next conversion ended within the
 * quarter of a microsecond before its line was looked at. The next reading tells: the first runs out of bits and ends in
 * ones, the second is in step as it always was.
 */
void samples_judge(struct steps *steps, const struct reading_bits *bits, uint8_t asked, uint8_t absent);

/* The 24-bit two's complement value whose bits, highest first, stand at the bit of `mask` in the samples. */
int32_t samples_value(const uint8_t samples[CONVERTER_BITS], uint8_t mask);

#endif
