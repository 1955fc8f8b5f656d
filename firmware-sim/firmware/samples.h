/*
 * Port samples taken at each clock pulse into the values of the converters. Pure: compiles on the board and on a host.
 */
#ifndef SAMPLES_H
#define SAMPLES_H

#include <stdint.h>

#define CONVERTER_BITS 24

/* The 24-bit two's complement value whose bits, highest first, stand at the bit of `mask` in the samples. */
int32_t samples_value(const uint8_t samples[CONVERTER_BITS], uint8_t mask);

#endif
