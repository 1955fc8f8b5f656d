#include "dispatch.h"

#include "command.h"
#include "configuration.h"
#include "lamp.h"
#include "outbox.h"
#include "receiver.h"
#include "run.h"
#include "serial.h"
#include "store.h"

static struct receiver receiver;
static bool saving;
static uint16_t saving_tag;

static void arm_command(const struct command *command)
{
    uint32_t key;
    enum answer answer =
        run_arm_command(command->motor, command->number, configuration_status() == SETTINGS_OK, &key);
    if (answer == ANSWER_OK)
        outbox_answer_key(command->tag, key);
    else
        outbox_answer(command->tag, answer);
}

/* The answer comes when the save is over. */
static void save_command(const struct command *command)
{
    enum answer answer = configuration_save_command();
    if (answer == ANSWER_OK) {
        saving = true;
        saving_tag = command->tag;
    } else {
        outbox_answer(command->tag, answer);
    }
}

static void obey(const struct command *command)
{
    enum answer answer = ANSWER_OK;
    switch (command->word) {
    case COMMAND_ARM: arm_command(command); return;
    case COMMAND_SAVE: save_command(command); return;
    case COMMAND_HELP: outbox_answer_help(command->tag); return;
    case COMMAND_ID: outbox_identity(); break;
    case COMMAND_GET: outbox_settings(); break;
    case COMMAND_HEALTH: outbox_health(); break;
    case COMMAND_GO: answer = run_go_command(command->number); break;
    case COMMAND_STOP: answer = run_stop_command(); break;
    case COMMAND_LAMP: answer = lamp_try_command(); break;
    case COMMAND_SET: answer = configuration_set_command(command->key, command->value); break;
    default: break;
    }
    outbox_answer(command->tag, answer);
}

static void take_line(void)
{
    struct command command = command_parse(receiver.text);
    if (command.checked)
        run_host_spoke();
    if (command.verdict == VERDICT_OBEY)
        obey(&command);
    else if (command.verdict == VERDICT_REFUSE)
        outbox_answer(command.tag, command.refusal);
    else
        receiver.bad_lines++;
}

void dispatch_task(void)
{
    uint8_t byte;
    if (saving) {
        enum answer answer;
        if (configuration_saving(&answer))
            return;
        saving = false;
        outbox_answer(saving_tag, answer);
    }
    while (!outbox_busy() && !saving && serial_take(&byte))
        if (receiver_take(&receiver, byte))
            take_line();
}

uint16_t dispatch_bad_lines(void) { return receiver.bad_lines; }
