/*
 * The board's lines, made from the meanings of the golden file and compared to the byte.
 */
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "crc16.h"
#include "lines.h"

/* Index of a word in a list that ends in NULL. */
static int index_of(const char *const *words, const char *word)
{
    for (int i = 0; words[i]; i++)
        if (strcmp(words[i], word) == 0)
            return i;
    CHECK(!"known word");
    return 0;
}

static enum run_state state_of(const struct row *row)
{
    static const char *const words[] = {"idle", "armed", "turning", "done", "halted", NULL};
    return (enum run_state)index_of(words, row_text(row, "state"));
}

static enum run_why why_of(const struct row *row)
{
    static const char *const words[] = {"-", "preset", "host", "button", "silent", "reverse", "stalled", "expired", NULL};
    return (enum run_why)index_of(words, row_text(row, "why"));
}

static uint8_t reset_of(const struct row *row)
{
    uint8_t cause = 0;
    for (const char *letter = row_text(row, "reset"); *letter; letter++)
        if (*letter != '-')
            cause |= (uint8_t)(1 << (strchr("PEBW", *letter) - "PEBW"));
    return cause;
}

static uint16_t sequence_of(const struct row *row) { return (uint16_t)row_number(row, "sequence"); }

static void make_reading(struct line *line, const struct row *row)
{
    struct reading reading = {
        .time_us = row_number(row, "time"),
        .forward = row_number(row, "forward"),
        .backward = row_number(row, "backward"),
        .age_us = row_number(row, "age"),
        .state = state_of(row),
        .why = why_of(row),
        .flags = (uint8_t)strtoul(row_text(row, "flags"), NULL, 16),
    };
    const char *at = row_text(row, "counts");
    for (;;) {
        if (*at == 'x')
            reading.missing |= (uint8_t)(1u << reading.cells);
        else
            reading.counts[reading.cells] = (int32_t)strtol(at, NULL, 10);
        reading.cells++;
        at = strchr(at, ',');
        if (!at)
            break;
        at++;
    }
    line_reading(line, sequence_of(row), &reading);
}

static void make_identity(struct line *line, const struct row *row)
{
    static const char *const words[] = {"ok", "blank", "corrupt", NULL};
    struct settings settings = {
        .pulses_per_turn = (uint16_t)row_number(row, "ppt"),
        .debounce_us = (uint16_t)row_number(row, "debounce"),
        .cells = (uint8_t)row_number(row, "cells"),
        .direction = (uint8_t)row_number(row, "direction"),
    };
    struct identity identity = {
        .status = (enum settings_status)index_of(words, row_text(row, "settings")),
        .boot = (uint16_t)row_number(row, "boot"),
        .reset_cause = reset_of(row),
        .armings = (uint8_t)row_number(row, "armings"),
    };
    strncpy(settings.name, row_text(row, "name"), NAME_LIMIT);
    line_identity(line, sequence_of(row), &identity, &settings);
}

static void make_change(struct line *line, const struct row *row)
{
    struct event event = {
        .time_us = row_number(row, "time"),
        .state = state_of(row),
        .why = why_of(row),
        .forward = row_number(row, "forward"),
        .backward = row_number(row, "backward"),
    };
    line_event(line, sequence_of(row), &event);
}

static void make_answer(struct line *line, const struct row *row)
{
    static const char *const words[] = {"", "unknown", "value", "state", "button", "settings", "key", "plain", NULL};
    uint16_t tag = (uint16_t)row_number(row, "tag");
    const char *word = row_text(row, "word");
    bool ok = strcmp(row_text(row, "ok"), "yes") == 0;
    if (ok && *word >= '0' && *word <= '9')
        line_answer_key(line, sequence_of(row), tag, row_number(row, "word"));
    else if (ok && *word)
        line_answer_help(line, sequence_of(row), tag);
    else
        line_answer(line, sequence_of(row), tag, (enum answer)index_of(words, word));
}

static void make_setting(struct line *line, const struct row *row)
{
    struct settings settings;
    uint8_t index = 0;
    settings_defaults(&settings);
    CHECK_ROW(settings_set(&settings, row_text(row, "key"), row_text(row, "value")), row->number);
    for (; index < SETTINGS_KEYS; index++) {
        line_setting(line, sequence_of(row), &settings, index);
        if (line->length == row->line_length + 2 && memcmp(line->text, row->line, (size_t)row->line_length) == 0)
            return;
    }
}

static void make_health(struct line *line, const struct row *row)
{
    struct health health = {
        .up_s = row_number(row, "up"),
        .loop_mean_us = (uint16_t)row_number(row, "loop"),
        .loop_worst_us = (uint16_t)row_number(row, "worst"),
        .rx_lost = (uint16_t)row_number(row, "rxlost"),
        .rx_bad = (uint16_t)row_number(row, "rxbad"),
        .tx_lost = (uint16_t)row_number(row, "txlost"),
        .late = (uint16_t)row_number(row, "late"),
        .desync = (uint16_t)row_number(row, "desync"),
        .bounced = row_number(row, "bounced"),
        .stack_bytes = (uint16_t)row_number(row, "stack"),
        .boot = (uint16_t)row_number(row, "boot"),
        .reset_cause = reset_of(row),
    };
    line_health(line, sequence_of(row), &health);
}

void golden_line(const struct row *row)
{
    static const struct {
        const char *kind;
        void (*make)(struct line *, const struct row *);
    } makers[] = {{"reading", make_reading}, {"identity", make_identity}, {"change", make_change},
                  {"answer", make_answer},   {"setting", make_setting},   {"health", make_health}};
    struct line line = {.length = 0};
    if (strcmp(row->kind, "crc") == 0) {
        unsigned long expected = strtoul(row_text(row, "check"), NULL, 16);
        CHECK_ROW(crc16(row->line, (uint8_t)row->line_length) == expected, row->number);
        return;
    }
    for (size_t i = 0; i < sizeof makers / sizeof makers[0]; i++)
        if (strcmp(makers[i].kind, row->kind) == 0)
            makers[i].make(&line, row);
    CHECK_ROW(line.length == row->line_length + 2, row->number);
    CHECK_ROW(line.length <= LINE_BUFFER, row->number);
    CHECK_ROW(memcmp(line.text, row->line, (size_t)row->line_length) == 0, row->number);
    CHECK_ROW(memcmp(line.text + row->line_length, "\r\n", 2) == 0, row->number);
}
