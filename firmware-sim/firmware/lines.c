#include "lines.h"

static const __flash char state_words[][8] = {"idle", "armed", "turning", "done", "halted"};
static const __flash char why_words[][8] = {"-",      "preset",  "host",    "button",
                                            "silent", "reverse", "stalled", "expired"};
static const __flash char answer_words[][9] = {"ok",     "unknown",  "value", "state",
                                               "button", "settings", "key",   "plain"};
static const __flash char settings_words[][8] = {"ok", "blank", "corrupt"};
static const __flash char help_text[] = " ok id beat arm go stop get set save health help lamp";

static void begin(struct line *line, char kind, uint16_t sequence)
{
    line->length = 0;
    put_char(line, kind);
    put_char(line, ' ');
    put_unsigned(line, sequence);
}

static void put_field(struct line *line, uint32_t value)
{
    put_char(line, ' ');
    put_unsigned(line, value);
}

static void put_word(struct line *line, const __flash char *word)
{
    put_char(line, ' ');
    put_flash(line, word);
}

/* Puts ` name=value`; `name` brings its blank and its equals sign. */
static void put_named(struct line *line, const __flash char *name, uint32_t value)
{
    put_flash(line, name);
    put_unsigned(line, value);
}

static void put_reset_cause(struct line *line, uint8_t cause)
{
    static const __flash char letters[] = "PEBW";
    bool none = true;
    put_flash(line, FLASH_TEXT(" reset="));
    for (uint8_t bit = 0; bit < 4; bit++) {
        if (cause & (1u << bit)) {
            put_char(line, letters[bit]);
            none = false;
        }
    }
    if (none)
        put_char(line, '-');
}

void line_reading(struct line *line, uint16_t sequence, const struct reading *reading)
{
    begin(line, 'R', sequence);
    put_field(line, reading->time_us);
    put_field(line, reading->forward);
    put_field(line, reading->backward);
    put_field(line, reading->age_us);
    put_word(line, state_words[reading->state]);
    put_word(line, why_words[reading->why]);
    put_char(line, ' ');
    put_hex(line, reading->flags, 2);
    for (uint8_t cell = 0; cell < reading->cells; cell++) {
        put_char(line, ' ');
        if (reading->missing & (1u << cell))
            put_char(line, 'x');
        else
            put_signed(line, reading->counts[cell]);
    }
    put_check(line);
}

void line_identity(struct line *line, uint16_t sequence, const struct identity *identity,
                   const struct settings *settings)
{
    begin(line, 'I', sequence);
    put_named(line, FLASH_TEXT(" catchbench-stand proto="), PROTOCOL_VERSION);
    put_flash(line, FLASH_TEXT(" fw=" FIRMWARE_VERSION " name="));
    put_text(line, settings->name);
    put_flash(line, FLASH_TEXT(" settings="));
    put_flash(line, settings_words[identity->status]);
    put_named(line, FLASH_TEXT(" boot="), identity->boot);
    put_reset_cause(line, identity->reset_cause);
    put_named(line, FLASH_TEXT(" ppt="), settings->pulses_per_turn);
    put_named(line, FLASH_TEXT(" cells="), settings->cells);
    put_named(line, FLASH_TEXT(" direction="), settings->direction);
    put_named(line, FLASH_TEXT(" debounce="), settings->debounce_us);
    put_named(line, FLASH_TEXT(" arm="), identity->armings);
    put_check(line);
}

void line_event(struct line *line, uint16_t sequence, const struct event *event)
{
    begin(line, 'E', sequence);
    put_field(line, event->time_us);
    put_word(line, state_words[event->state]);
    put_word(line, why_words[event->why]);
    put_field(line, event->forward);
    put_field(line, event->backward);
    put_check(line);
}

void line_health(struct line *line, uint16_t sequence, const struct health *health)
{
    begin(line, 'S', sequence);
    put_named(line, FLASH_TEXT(" up="), health->up_s < UP_LIMIT_S ? health->up_s : UP_LIMIT_S);
    put_named(line, FLASH_TEXT(" loop="), health->loop_mean_us);
    put_named(line, FLASH_TEXT(" worst="), health->loop_worst_us);
    put_named(line, FLASH_TEXT(" rxlost="), health->rx_lost);
    put_named(line, FLASH_TEXT(" rxbad="), health->rx_bad);
    put_named(line, FLASH_TEXT(" txlost="), health->tx_lost);
    put_named(line, FLASH_TEXT(" late="), health->late);
    put_named(line, FLASH_TEXT(" desync="), health->desync);
    put_named(line, FLASH_TEXT(" bounced="), health->bounced);
    put_named(line, FLASH_TEXT(" stack="), health->stack_bytes);
    put_named(line, FLASH_TEXT(" boot="), health->boot);
    put_reset_cause(line, health->reset_cause);
    put_check(line);
}

void line_setting(struct line *line, uint16_t sequence, const struct settings *settings, uint8_t index)
{
    begin(line, 'P', sequence);
    put_char(line, ' ');
    settings_put(line, settings, index);
    put_check(line);
}

void line_answer(struct line *line, uint16_t sequence, uint16_t tag, enum answer answer)
{
    begin(line, 'A', sequence);
    put_field(line, tag);
    if (answer != ANSWER_OK)
        put_word(line, FLASH_TEXT("no"));
    put_word(line, answer_words[answer]);
    put_check(line);
}

void line_answer_key(struct line *line, uint16_t sequence, uint16_t tag, uint32_t key)
{
    begin(line, 'A', sequence);
    put_field(line, tag);
    put_word(line, answer_words[ANSWER_OK]);
    put_field(line, key);
    put_check(line);
}

void line_answer_help(struct line *line, uint16_t sequence, uint16_t tag)
{
    begin(line, 'A', sequence);
    put_field(line, tag);
    put_flash(line, help_text);
    put_check(line);
}
