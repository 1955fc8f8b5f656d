#include "samples.h"

static uint8_t samples_byte(const uint8_t samples[8], uint8_t mask)
{
    uint8_t byte = 0;
    for (uint8_t bit = 0; bit < 8; bit++) {
        byte <<= 1;
        if (samples[bit] & mask)
            byte |= 1;
    }
    return byte;
}

int32_t samples_value(const uint8_t samples[CONVERTER_BITS], uint8_t mask)
{
    uint8_t high = samples_byte(samples, mask);
    uint16_t low = (uint16_t)((uint16_t)samples_byte(samples + 8, mask) << 8) | samples_byte(samples + 16, mask);
    uint32_t value = (uint32_t)high << 16 | low;
    if (high & 0x80)
        value |= 0xFF000000UL;
    return (int32_t)value;
}

void samples_judge(struct steps *steps, const struct reading_bits *bits, uint8_t asked, uint8_t absent)
{
    uint8_t out_of_step = bits->low_at_trailer & asked;
    uint8_t in_step = bits->low_in_tail & (uint8_t)~out_of_step;
    steps->suspect |= (absent & bits->low_at_all) | (steps->doubted & asked & (uint8_t)~in_step);
    steps->doubted = (steps->doubted & absent) | out_of_step;
}
