/*
 * Port samples into values, and who is in step: against a model of a converter that counts its pulses.
 */
#include <string.h>

#include "check.h"
#include "samples.h"

#define LINE 0x01
#define ALL_PULSES 25

/* Port samples as six converters give them, each with its own value, against the values they were made from. */
static void samples_give_the_values_back(void)
{
    static const int32_t edges[] = {0, 1, -1, 8388607, -8388608, 0x555555, -0x555556};
    uint32_t random = 99;
    for (int round = 0; round < 20000; round++) {
        uint8_t samples[CONVERTER_BITS] = {0};
        int32_t values[6];
        for (int cell = 0; cell < 6; cell++) {
            uint32_t any = random_next(&random);
            values[cell] = round < 7 ? edges[(round + cell) % 7] : (int32_t)(any % 16777216) - 8388608;
            for (int bit = 0; bit < CONVERTER_BITS; bit++)
                if ((uint32_t)values[cell] >> (23 - bit) & 1)
                    samples[bit] |= (uint8_t)(1 << cell);
        }
        for (int cell = 0; cell < 6; cell++)
            CHECK(samples_value(samples, (uint8_t)(1 << cell)) == values[cell]);
    }
}

/* A converter on one line: the bits of its value, then high. */
struct model {
    uint32_t value;
    int pulses; /* seen of the present value */
};

static bool model_clock(struct model *model)
{
    model->pulses++;
    return model->pulses > CONVERTER_BITS || (model->value >> (CONVERTER_BITS - model->pulses) & 1);
}

/* A reading in which the converter does not see pulse number `missed` (none: -1). */
static void model_read(struct model *model, int missed, struct reading_bits *bits)
{
    uint8_t level = 0;
    memset(bits, 0, sizeof *bits);
    for (int pulse = 0; pulse < ALL_PULSES; pulse++) {
        if (pulse != missed)
            level = model_clock(model) ? LINE : 0;
        if (pulse < CONVERTER_BITS)
            bits->samples[pulse] = level;
        if (!level) {
            bits->low_at_all |= LINE;
            bits->low_in_tail |= pulse >= CONVERTER_BITS / 2 && pulse < CONVERTER_BITS ? LINE : 0;
            bits->low_at_trailer |= pulse == CONVERTER_BITS ? LINE : 0;
        }
    }
}

static bool believed(const struct steps *steps) { return !((steps->doubted | steps->suspect) & LINE); }

static void one_in_step_is_believed(void)
{
    struct steps steps = {0, 0};
    struct reading_bits bits;
    uint32_t random = 3;
    for (int round = 0; round < 2000; round++) {
        struct model model = {random_next(&random) & 0xFFFFFF, 0};
        model_read(&model, -1, &bits);
        samples_judge(&steps, &bits, LINE, 0);
        CHECK(believed(&steps));
        CHECK(((uint32_t)samples_value(bits.samples, LINE) & 0xFFFFFF) == model.value);
    }
}

/* Missed pulses with an even value, whose last bit then stands where the trailer should. */
static void one_that_missed_a_pulse_is_never_believed_again(void)
{
    uint32_t random = 5;
    for (int missed = 0; missed < ALL_PULSES; missed++) {
        struct steps steps = {0, 0};
        struct reading_bits bits;
        struct model model = {random_next(&random) & 0xFFFFFE, 0};
        model_read(&model, missed, &bits);
        samples_judge(&steps, &bits, LINE, 0);
        CHECK(!believed(&steps));
        for (int later = 0; later < 5; later++) {
            model_read(&model, -1, &bits); /* its line is low, so it is asked; one pulse is left of its value */
            samples_judge(&steps, &bits, LINE, 0);
            CHECK(!believed(&steps) && steps.suspect == LINE);
        }
    }
}

static void a_conversion_ending_with_the_reading_costs_one_value(void)
{
    struct steps steps = {0, 0};
    struct reading_bits bits;
    struct model model = {123456, 0}, next = {123400, 0};
    model_read(&model, -1, &bits);
    bits.low_at_trailer = LINE;
    samples_judge(&steps, &bits, LINE, 0);
    CHECK(!believed(&steps));
    model_read(&next, -1, &bits);
    samples_judge(&steps, &bits, LINE, 0);
    CHECK(believed(&steps));
}

static void one_that_becomes_ready_during_a_reading_is_suspect(void)
{
    struct steps steps = {0, 0};
    struct reading_bits bits = {.low_at_all = 0};
    samples_judge(&steps, &bits, 0, LINE);
    CHECK(believed(&steps));
    bits.low_at_all = LINE;
    samples_judge(&steps, &bits, 0, LINE);
    CHECK(steps.suspect == LINE);
}

static void a_line_stuck_low_is_never_believed(void)
{
    struct steps steps = {0, 0};
    struct reading_bits bits = {.low_at_all = LINE, .low_in_tail = LINE, .low_at_trailer = LINE};
    for (int round = 0; round < 3; round++) {
        samples_judge(&steps, &bits, LINE, 0);
        CHECK(!believed(&steps));
    }
    CHECK(steps.suspect == LINE);
}

void test_samples(void)
{
    samples_give_the_values_back();
    one_in_step_is_believed();
    one_that_missed_a_pulse_is_never_believed_again();
    a_conversion_ending_with_the_reading_costs_one_value();
    one_that_becomes_ready_during_a_reading_is_suspect();
    a_line_stuck_low_is_never_believed();
}
