/*
 * The lines that the board sends, each from its meaning (hardware-notes/protocol.md). Pure: compiles on the board and on a
 * host. Every function starts the line afresh and closes it with its check.
 */
#ifndef LINES_H
#define LINES_H

#include "settings.h"
#include "text.h"

#define PROTOCOL_VERSION 1
#define FIRMWARE_VERSION "1.1.0"

enum run_state { STATE_IDLE, STATE_ARMED, STATE_TURNING, STATE_DONE, STATE_HALTED };

enum run_why {
    WHY_NONE,
    WHY_PRESET,
    WHY_HOST,
    WHY_BUTTON,
    WHY_SILENT,
    WHY_REVERSE,
    WHY_STALLED,
    WHY_EXPIRED
};

/* Words of an answer; ANSWER_OK first. */
enum answer {
    ANSWER_OK,
    ANSWER_UNKNOWN,
    ANSWER_VALUE,
    ANSWER_STATE,
    ANSWER_BUTTON,
    ANSWER_SETTINGS,
    ANSWER_KEY,
    ANSWER_PLAIN
};

/* Bits of a reading's flags. */
#define READING_MOTOR_ON 0x01
#define READING_LAMP_ON 0x02
#define READING_STOP_OPEN 0x04
#define READING_HOST_SILENT 0x08
#define READING_CONVERTER_FAULT 0x10
#define READING_SETTINGS_BAD 0x20
#define READING_DROPPED 0x40

#define AGE_LIMIT_US 9999999UL
#define UP_LIMIT_S 9999999UL /* keeps the longest line within its limit */

/* Bits of a reset cause, as in the chip's MCUSR. */
#define RESET_POWER 0x01
#define RESET_EXTERNAL 0x02
#define RESET_BROWN_OUT 0x04
#define RESET_WATCHDOG 0x08

struct reading {
    uint32_t time_us;
    uint32_t forward, backward; /* pulses */
    uint32_t age_us;            /* at most AGE_LIMIT_US */
    enum run_state state;
    enum run_why why;
    uint8_t flags;
    uint8_t cells;
    uint8_t missing; /* bit n set: cell n gave no value */
    int32_t counts[CELLS_MAX];
};

struct identity {
    enum settings_status status;
    uint16_t boot;
    uint8_t reset_cause;
    uint8_t armings; /* since reset, modulo 256: a host that was away sees whether its own arming was the last */
};

struct event {
    uint32_t time_us;
    enum run_state state;
    enum run_why why;
    uint32_t forward, backward; /* pulses */
};

struct health {
    uint32_t up_s;
    uint16_t loop_mean_us, loop_worst_us;
    uint16_t rx_lost, rx_bad, tx_lost, late, desync;
    uint32_t bounced;
    uint16_t stack_bytes;
    uint16_t boot;
    uint8_t reset_cause;
};

void line_reading(struct line *line, uint16_t sequence, const struct reading *reading);
void line_identity(struct line *line, uint16_t sequence, const struct identity *identity,
                   const struct settings *settings);
void line_event(struct line *line, uint16_t sequence, const struct event *event);
void line_health(struct line *line, uint16_t sequence, const struct health *health);
/* Setting 0 .. SETTINGS_KEYS - 1. */
void line_setting(struct line *line, uint16_t sequence, const struct settings *settings, uint8_t index);
/* An answer without detail, good or bad. */
void line_answer(struct line *line, uint16_t sequence, uint16_t tag, enum answer answer);
/* `ok` with the key of an arming. */
void line_answer_key(struct line *line, uint16_t sequence, uint16_t tag, uint32_t key);
/* `ok` with the list of commands. */
void line_answer_help(struct line *line, uint16_t sequence, uint16_t tag);

#endif
