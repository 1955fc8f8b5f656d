/*
 * One input of the fuzzer through every line that the board sends: values as they come, each line within its limits, closed with its right
 * check, and read back to the values it was made from.
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "crc16.h"
#include "lines.h"

#define MUST(condition) \
    do { \
        if (!(condition)) \
            abort(); \
    } while (0)

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Takes bytes off the input; zeros once it is used up. */
struct source {
    const uint8_t *data;
    size_t left;
};

static uint32_t take(struct source *source, uint8_t bytes)
{
    uint32_t value = 0;
    for (uint8_t i = 0; i < bytes; i++) {
        value = value << 8 | (source->left ? *source->data : 0);
        if (source->left) {
            source->data++;
            source->left--;
        }
    }
    return value;
}

/* A line as it goes over the wire: printable, within its limit, its check right, its end there. Cut off before the check. */
static char *body_of(struct line *line, char kind, uint16_t sequence)
{
    static char text[LINE_LIMIT + 1];
    char start[16], check[8];
    uint8_t length = line->length;
    MUST(length >= 9 && length <= LINE_BUFFER);
    MUST(memcmp(line->text + length - 2, "\r\n", 2) == 0);
    length -= 2;
    MUST(length <= LINE_LIMIT);
    for (uint8_t i = 0; i < length; i++)
        MUST(line->text[i] >= 0x20 && line->text[i] <= 0x7E);
    memcpy(text, line->text, length);
    text[length] = '\0';
    snprintf(check, sizeof check, "*%04X", crc16(text, (uint8_t)(length - 5)));
    MUST(strcmp(text + length - 5, check) == 0);
    text[length - 5] = '\0';
    MUST(strchr(text, '*') == NULL);
    snprintf(start, sizeof start, "%c %u ", kind, sequence);
    MUST(strncmp(text, start, strlen(start)) == 0);
    return text;
}

static void readings(struct source *source, uint16_t sequence)
{
    struct line line;
    struct reading reading = {0};
    char state[16], why[16];
    unsigned read_sequence, flags;
    int at = 0;
    reading.time_us = take(source, 4);
    reading.forward = take(source, 4);
    reading.backward = take(source, 4);
    reading.age_us = take(source, 4) % (AGE_LIMIT_US + 1);
    reading.state = (enum run_state)(take(source, 1) % (STATE_HALTED + 1));
    reading.why = (enum run_why)(take(source, 1) % (WHY_EXPIRED + 1));
    reading.flags = take(source, 1) & 0x7F;
    reading.cells = (uint8_t)(take(source, 1) % CELLS_MAX + 1);
    reading.missing = (uint8_t)take(source, 1);
    for (int cell = 0; cell < CELLS_MAX; cell++)
        reading.counts[cell] = (int32_t)(take(source, 3) << 8) >> 8;
    line_reading(&line, sequence, &reading);
    char *text = body_of(&line, 'R', sequence);
    uint32_t time, forward, backward, age;
    MUST(sscanf(text, "R %u %" SCNu32 " %" SCNu32 " %" SCNu32 " %" SCNu32 " %15s %15s %2X%n", &read_sequence, &time, &forward, &backward,
                &age, state, why, &flags, &at) == 8);
    MUST(read_sequence == sequence && time == reading.time_us && forward == reading.forward);
    MUST(backward == reading.backward && age == reading.age_us && flags == reading.flags);
    for (int cell = 0; cell < reading.cells; cell++) {
        char word[16], expected[16];
        int used = 0;
        MUST(sscanf(text + at, " %15s%n", word, &used) == 1);
        at += used;
        snprintf(expected, sizeof expected, "%" PRId32, reading.counts[cell]);
        MUST(strcmp(word, reading.missing & 1 << cell ? "x" : expected) == 0);
    }
    MUST(text[at] == '\0');
}

static void fill(struct source *source, struct settings *settings)
{
    static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-";
    uint8_t length = (uint8_t)(take(source, 1) % NAME_LIMIT + 1);
    settings_defaults(settings);
    for (uint8_t i = 0; i < length; i++)
        settings->name[i] = letters[take(source, 1) % (sizeof letters - 1)];
    settings->name[length] = '\0';
    settings->pulses_per_turn = (uint16_t)(take(source, 2) % 2000 + 1);
    settings->debounce_us = (uint16_t)(take(source, 2) % 19981 + 20);
    settings->cells = (uint8_t)(take(source, 1) % CELLS_MAX + 1);
    settings->direction = (uint8_t)(take(source, 1) % 3);
    settings->warn_pulses = (uint16_t)take(source, 2);
    for (int cell = 0; cell < CELLS_MAX; cell++) {
        int32_t slope = (int32_t)take(source, 4) % 2000000001L;
        settings->slope_nanograms[cell] = slope ? slope : 1;
        settings->zero_counts[cell] = (int32_t)(take(source, 3) << 8) >> 8;
    }
    MUST(settings_valid(settings));
}

/* Each setting's line gives the setting back where it is set from it. */
static void settings_lines(struct source *source, uint16_t sequence)
{
    struct settings settings, again;
    struct identity identity;
    struct line line;
    char key[16], value[24];
    fill(source, &settings);
    settings_defaults(&again);
    for (uint8_t index = 0; index < SETTINGS_KEYS; index++) {
        line_setting(&line, sequence, &settings, index);
        char *text = body_of(&line, 'P', sequence);
        MUST(sscanf(text, "P %*u %15s %23s", key, value) == 2);
        MUST(settings_set(&again, key, value));
    }
    MUST(memcmp(again.slope_nanograms, settings.slope_nanograms, sizeof again.slope_nanograms) == 0);
    MUST(memcmp(again.zero_counts, settings.zero_counts, sizeof again.zero_counts) == 0);
    MUST(strcmp(again.name, settings.name) == 0 && again.warn_pulses == settings.warn_pulses);
    MUST(again.pulses_per_turn == settings.pulses_per_turn && again.debounce_us == settings.debounce_us);
    identity.status = (enum settings_status)(take(source, 1) % (SETTINGS_CORRUPT + 1));
    identity.boot = (uint16_t)take(source, 2);
    identity.reset_cause = take(source, 1) & 0x0F;
    identity.armings = (uint8_t)take(source, 1);
    line_identity(&line, sequence, &identity, &settings);
    body_of(&line, 'I', sequence);
}

static void others(struct source *source, uint16_t sequence)
{
    struct line line;
    struct event event;
    struct health health;
    uint8_t *bytes = (uint8_t *)&health;
    uint16_t tag = (uint16_t)take(source, 2);
    event.time_us = take(source, 4);
    event.state = (enum run_state)(take(source, 1) % (STATE_HALTED + 1));
    event.why = (enum run_why)(take(source, 1) % (WHY_EXPIRED + 1));
    event.forward = take(source, 4);
    event.backward = take(source, 4);
    line_event(&line, sequence, &event);
    body_of(&line, 'E', sequence);
    for (size_t i = 0; i < sizeof health; i++)
        bytes[i] = (uint8_t)take(source, 1);
    health.stack_bytes %= 2049;
    health.reset_cause &= 0x0F;
    line_health(&line, sequence, &health);
    body_of(&line, 'S', sequence);
    line_answer(&line, sequence, tag, (enum answer)(take(source, 1) % (ANSWER_PLAIN + 1)));
    body_of(&line, 'A', sequence);
    line_answer_key(&line, sequence, tag, take(source, 4));
    body_of(&line, 'A', sequence);
    line_answer_help(&line, sequence, tag);
    body_of(&line, 'A', sequence);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct source source = {data, size};
    uint16_t sequence = (uint16_t)take(&source, 2);
    readings(&source, sequence);
    settings_lines(&source, sequence);
    others(&source, sequence);
    return 0;
}
