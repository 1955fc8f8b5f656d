/*
 * The lines to the board: the golden file's rows through receiver and parser, as the board would take them.
 */
#include <stdio.h>
#include <string.h>

#include "check.h"
#include "command.h"
#include "receiver.h"

static const char *const words[] = {"id", "beat", "arm", "go", "stop", "get", "set", "save", "health", "help", "lamp"};
static const char *const refusals[] = {"ok", "unknown", "value", "state", "button", "settings", "key", "plain"};

/* Feeds a line and its end. True when the receiver let it through. */
static bool receive(struct receiver *receiver, const struct row *row, const char *end)
{
    for (int i = 0; i < row->line_length; i++)
        if (receiver_take(receiver, (uint8_t)row->line[i]))
            return false;
    return receiver_take(receiver, (uint8_t)*end);
}

static void check_arguments(const struct row *row, const struct command *command)
{
    switch (command->word) {
    case COMMAND_ARM:
        CHECK_ROW(command->motor == (strcmp(row_text(row, "mode"), "motor") == 0), row->number);
        CHECK_ROW(command->number == row_number(row, "pulses"), row->number);
        break;
    case COMMAND_GO: CHECK_ROW(command->number == row_number(row, "key"), row->number); break;
    case COMMAND_SET: {
        struct settings settings;
        settings_defaults(&settings);
        CHECK_ROW(strcmp(command->key, row_text(row, "key")) == 0, row->number);
        CHECK_ROW(strcmp(command->value, row_text(row, "value")) == 0, row->number);
        CHECK_ROW(settings_set(&settings, command->key, command->value), row->number);
        break;
    }
    default: break;
    }
}

static void check_obeyed(const struct row *row, const struct command *command)
{
    CHECK_ROW(command->verdict == VERDICT_OBEY, row->number);
    CHECK_ROW(command->checked == (command->tag != 0), row->number);
    CHECK_ROW(command->tag == row_number(row, "tag"), row->number);
    if (command->verdict != VERDICT_OBEY)
        return;
    CHECK_ROW(strcmp(words[command->word], row_text(row, "command")) == 0, row->number);
    check_arguments(row, command);
}

/* A wrong value of a setting is found only when it is put to the settings, as dispatch.c does. */
static void check_refused(const struct row *row, const struct command *command)
{
    struct settings settings, before;
    enum answer refusal = command->refusal;
    settings_defaults(&settings);
    before = settings;
    if (command->verdict == VERDICT_OBEY && command->word == COMMAND_SET)
        refusal = settings_set(&settings, command->key, command->value) ? ANSWER_OK : ANSWER_VALUE;
    else
        CHECK_ROW(command->verdict == VERDICT_REFUSE, row->number);
    CHECK_ROW(memcmp(&settings, &before, sizeof settings) == 0, row->number);
    CHECK_ROW(strcmp(refusals[refusal], row_text(row, "word")) == 0, row->number);
    CHECK_ROW(command->tag == row_number(row, "tag"), row->number);
}

void golden_command(const struct row *row)
{
    static const char *const ends[] = {"\n", "\r"};
    for (int i = 0; i < 2; i++) {
        struct receiver receiver = {.length = 0};
        bool taken = receive(&receiver, row, ends[i]);
        struct command command = {.verdict = VERDICT_DROP};
        if (taken)
            command = command_parse(receiver.text);
        if (strcmp(row->kind, "dropped") == 0) {
            CHECK_ROW(command.verdict == VERDICT_DROP, row->number);
            CHECK_ROW(!command.checked, row->number);
            CHECK_ROW(receiver.bad_lines == (taken ? 0 : 1), row->number);
        } else if (strcmp(row->kind, "refused") == 0) {
            CHECK_ROW(taken, row->number);
            check_refused(row, &command);
        } else {
            CHECK_ROW(taken, row->number);
            check_obeyed(row, &command);
        }
    }
}
