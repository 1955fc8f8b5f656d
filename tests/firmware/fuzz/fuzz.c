/*
 * One input of the fuzzer (libFuzzer's entry) through receiver, parser and settings, and through the settings' bytes. The first byte chooses:
 * even, the bytes as they are; odd, each line closed with its right check, so that the fuzzer gets behind the check.
 */
#include <stdlib.h>
#include <string.h>

#include "command.h"
#include "crc16.h"
#include "image.h"
#include "receiver.h"

#define MUST(condition) \
    do { \
        if (!(condition)) \
            abort(); \
    } while (0)

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void judge(char *text)
{
    struct settings settings;
    struct command command = command_parse(text);
    settings_defaults(&settings);
    if (command.verdict != VERDICT_OBEY)
        return;
    if (!command.checked)
        MUST(command.word == COMMAND_ID || command.word == COMMAND_GET || command.word == COMMAND_HEALTH ||
             command.word == COMMAND_STOP || command.word == COMMAND_HELP || command.word == COMMAND_LAMP);
    else
        MUST(command.tag > 0);
    if (command.word == COMMAND_ARM)
        MUST(command.number >= 1 && command.number <= ARM_PULSES_MAX);
    if (command.word == COMMAND_SET) {
        settings_set(&settings, command.key, command.value);
        MUST(settings_valid(&settings));
    }
}

static void take(struct receiver *receiver, uint8_t byte, bool seal)
{
    char hex[6];
    if (seal && byte == '\n' && receiver->length <= COMMAND_LIMIT - 5) {
        uint16_t check = crc16(receiver->text, receiver->length);
        const char *digits = "0123456789ABCDEF";
        hex[0] = '*';
        for (int i = 0; i < 4; i++)
            hex[i + 1] = digits[check >> (12 - 4 * i) & 0x0F];
        for (int i = 0; i < 5; i++)
            receiver_take(receiver, (uint8_t)hex[i]);
    }
    MUST(receiver->length <= COMMAND_LIMIT);
    if (receiver_take(receiver, byte))
        judge(receiver->text);
}

/* What is taken for settings is in range, and its bytes are those it came from. */
static void decode(const uint8_t *data, size_t size)
{
    uint8_t image[SETTINGS_LENGTH] = {0}, again[SETTINGS_LENGTH];
    struct settings settings;
    uint16_t generation, check;
    memcpy(image, data, size < SETTINGS_LENGTH ? size : SETTINGS_LENGTH);
    check = crc16(image, SETTINGS_LENGTH - 2);
    image[SETTINGS_LENGTH - 2] = (uint8_t)check;
    image[SETTINGS_LENGTH - 1] = (uint8_t)(check >> 8);
    if (!image_decode(image, &settings, &generation))
        return;
    MUST(settings_valid(&settings));
    image_encode(again, &settings, generation);
    struct settings twice;
    MUST(image_decode(again, &twice, &generation) && strcmp(twice.name, settings.name) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct receiver receiver = {.length = 0};
    if (size == 0)
        return 0;
    for (size_t i = 1; i < size; i++)
        take(&receiver, data[i], data[0] & 1);
    decode(data + 1, size - 1);
    return 0;
}
