/*
 * A line from the host into a command. Pure: compiles on the board and on a host.
 */
#ifndef COMMAND_H
#define COMMAND_H

#include "lines.h"

enum command_word {
    COMMAND_ID,
    COMMAND_BEAT,
    COMMAND_ARM,
    COMMAND_GO,
    COMMAND_STOP,
    COMMAND_GET,
    COMMAND_SET,
    COMMAND_SAVE,
    COMMAND_HEALTH,
    COMMAND_HELP,
    COMMAND_LAMP,
    COMMAND_NONE
};

#define ARM_PULSES_MAX 16777215UL

enum verdict {
    VERDICT_DROP,   /* not a line for us: count it, say nothing */
    VERDICT_REFUSE, /* answer `no` with `refusal` */
    VERDICT_OBEY
};

struct command {
    enum verdict verdict;
    bool checked; /* came with a good check: a word from the host */
    uint16_t tag; /* 0 when typed by hand */
    enum answer refusal;
    enum command_word word;
    bool motor;      /* arm */
    uint32_t number; /* arm: pulses; go: key */
    const char *key, *value; /* set: point into the line */
};

/* Takes a line apart (and cuts it into its fields in place). */
struct command command_parse(char *line);

#endif
