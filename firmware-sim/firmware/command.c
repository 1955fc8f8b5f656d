#include "command.h"

#include <string.h>

#include "crc16.h"

#define FIELDS_MAX 4
#define CHECK_LENGTH 5

static const __flash char words[][7] = {"id", "beat", "arm", "go", "stop", "get", "set", "save", "health", "help", "lamp"};
/* Number of arguments of each. */
static const __flash uint8_t arguments[] = {0, 0, 2, 1, 0, 0, 2, 0, 0, 0, 0};

struct fields {
    uint8_t count; /* FIELDS_MAX + 1 when there are more than fit */
    char *at[FIELDS_MAX];
};

/* Cuts at every single blank; an empty field stays an empty field, which no command accepts. */
static struct fields split(char *text)
{
    struct fields fields = {.count = 1, .at = {text}};
    for (; *text; text++) {
        if (*text != ' ')
            continue;
        *text = '\0';
        if (fields.count < FIELDS_MAX)
            fields.at[fields.count] = text + 1;
        if (fields.count <= FIELDS_MAX)
            fields.count++;
    }
    return fields;
}

static enum command_word word_of(const char *text)
{
    for (uint8_t word = 0; word < COMMAND_NONE; word++) {
        const char *at = text;
        const __flash char *expected = words[word];
        while (*expected && *at == *expected) {
            at++;
            expected++;
        }
        if (!*at && !*expected)
            return word;
    }
    return COMMAND_NONE;
}

/* True when the text ends in `*` and its right check, which is then cut off. */
static bool take_check(char *text)
{
    uint8_t length = (uint8_t)strlen(text);
    uint16_t check = 0;
    if (length < CHECK_LENGTH || text[length - CHECK_LENGTH] != '*')
        return false;
    for (uint8_t i = (uint8_t)(length - CHECK_LENGTH + 1); i < length; i++) {
        uint8_t digit = hex_digit(text[i]);
        if (digit > 15)
            return false;
        check = (uint16_t)(check << 4) | digit;
    }
    text[length - CHECK_LENGTH] = '\0';
    return check == crc16(text, (uint8_t)(length - CHECK_LENGTH));
}

static void refuse(struct command *command, enum answer refusal)
{
    command->verdict = VERDICT_REFUSE;
    command->refusal = refusal;
}

/* Typed by hand: only what can do no harm, and only word for word. Anything else that begins with a command is told why. */
static struct command parse_plain(char *line)
{
    struct command command = {.verdict = VERDICT_DROP};
    struct fields fields = split(line);
    command.word = word_of(fields.at[0]);
    switch (command.word) {
    case COMMAND_ID:
    case COMMAND_GET:
    case COMMAND_HEALTH:
    case COMMAND_STOP:
    case COMMAND_HELP:
    case COMMAND_LAMP:
        if (fields.count == 1)
            command.verdict = VERDICT_OBEY;
        else
            refuse(&command, ANSWER_VALUE);
        break;
    case COMMAND_NONE: break;
    default: refuse(&command, ANSWER_PLAIN);
    }
    return command;
}

/* Reads the arguments; false when one is wrong. */
static bool read_arguments(struct command *command, const struct fields *fields)
{
    switch (command->word) {
    case COMMAND_ARM:
        command->motor = strcmp(fields->at[2], "motor") == 0;
        return (command->motor || strcmp(fields->at[2], "hand") == 0) && read_unsigned(fields->at[3], &command->number) &&
               command->number >= 1 && command->number <= ARM_PULSES_MAX;
    case COMMAND_GO: return read_unsigned(fields->at[2], &command->number);
    case COMMAND_SET:
        command->key = fields->at[2];
        command->value = fields->at[3];
        return true;
    default: return true;
    }
}

static struct command parse_checked(char *line)
{
    struct command command = {.verdict = VERDICT_OBEY, .checked = true, .word = COMMAND_NONE};
    struct fields fields = split(line);
    uint32_t tag;
    if (!read_unsigned(fields.at[0], &tag) || tag == 0 || tag > UINT16_MAX) {
        refuse(&command, ANSWER_VALUE);
        return command;
    }
    command.tag = (uint16_t)tag;
    if (fields.count > 1)
        command.word = word_of(fields.at[1]);
    if (command.word == COMMAND_NONE)
        refuse(&command, ANSWER_UNKNOWN);
    else if (fields.count != 2 + arguments[command.word] || !read_arguments(&command, &fields))
        refuse(&command, ANSWER_VALUE);
    return command;
}

struct command command_parse(char *line)
{
    struct command dropped = {.verdict = VERDICT_DROP};
    if (!strchr(line, '*'))
        return parse_plain(line);
    if (!take_check(line))
        return dropped;
    return parse_checked(line);
}
