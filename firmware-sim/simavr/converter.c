#include "converter.h"

#define VALUE_BITS 24
#define READING_PULSES 25

/* Conversions from power-up to the first that is given out. */
#define SETTLING 4

void converter_power_up(struct converter *converter)
{
    converter->data_high = true;
    converter->pulses = 0;
    converter->unsettled = SETTLING;
}

void converter_complete(struct converter *converter, int32_t value)
{
    if (converter->pulses > 0 && converter->pulses < READING_PULSES)
        return;
    converter->pulses = 0;
    if (converter->unsettled > 1) {
        converter->unsettled--;
        return;
    }
    converter->value = value;
    converter->data_high = false;
}

/* Pulses beyond the 25th would choose another gain or input; the firmware never gives them, and here they choose nothing. */
void converter_clock_rises(struct converter *converter)
{
    if (converter->pulses == 0 && converter->data_high)
        return;
    converter->pulses++;
    converter->data_high =
        converter->pulses > VALUE_BITS || ((uint32_t)converter->value >> (VALUE_BITS - converter->pulses) & 1);
}
