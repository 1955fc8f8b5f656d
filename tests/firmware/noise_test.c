/*
 * The receiver under noise: random bytes and corrupted commands never crash it, nothing is believed that was not sent, and
 * the next good command is understood.
 */
#include <stdio.h>
#include <string.h>

#include "check.h"
#include "command.h"
#include "crc16.h"
#include "receiver.h"

#define SENT_LIMIT 64

/* The newest commands that were sent, whole and in order: the only ones that may be believed. */
static char sent[SENT_LIMIT][COMMAND_LIMIT + 1];
static int sent_count;
static unsigned long believed, by_hand;

static void make_command(char *text, uint32_t *random)
{
    static const char *const bodies[] = {"beat", "arm motor 1500", "arm hand 16777215", "go 65537", "stop", "set zero3 -81234",
                                         "set name north-shed", "save", "get", "id", "health"};
    uint32_t tag = random_next(random) % 65535 + 1;
    int length = snprintf(text, COMMAND_LIMIT, "%lu %s", (unsigned long)tag, bodies[random_next(random) % 11]);
    snprintf(text + length, 6, "*%04X", (unsigned)crc16(text, (uint8_t)length));
}

static bool was_sent(const char *text)
{
    for (int i = 0; i < SENT_LIMIT; i++)
        if (strcmp(sent[i], text) == 0)
            return true;
    return false;
}

/* One byte through receiver and parser, and what it made of it judged. */
static void feed(struct receiver *receiver, uint8_t byte)
{
    char text[COMMAND_LIMIT + 1];
    if (!receiver_take(receiver, byte))
        return;
    strcpy(text, receiver->text);
    struct command command = command_parse(receiver->text);
    if (command.checked) {
        believed++;
        CHECK(was_sent(text));
    } else if (command.verdict == VERDICT_OBEY) {
        /* Noise may spell what can be typed by hand; nothing that moves or changes anything is among that. */
        by_hand++;
        CHECK(command.word == COMMAND_ID || command.word == COMMAND_GET || command.word == COMMAND_HEALTH ||
              command.word == COMMAND_STOP || command.word == COMMAND_HELP);
    }
}

/* Harms a line: changes, drops, doubles or inserts a few bytes, or breaks it off. Returns its new length. */
static int harm(uint8_t *line, int length, uint32_t *random)
{
    int times = (int)(random_next(random) % 4) + 1;
    while (times--) {
        int at = (int)(random_next(random) % (uint32_t)length);
        switch (random_next(random) % 5) {
        case 0: line[at] ^= (uint8_t)(1u << (random_next(random) % 8)); break;
        case 1: line[at] = (uint8_t)random_next(random); break;
        case 2:
            memmove(line + at, line + at + 1, (size_t)(length - at - 1));
            if (length > 1)
                length--;
            break;
        case 3:
            memmove(line + at + 1, line + at, (size_t)(length - at));
            length++;
            break;
        default: length = at + 1;
        }
    }
    return length;
}

static uint32_t corrupted_line(struct receiver *receiver, uint32_t *random)
{
    uint8_t line[COMMAND_LIMIT + 16];
    make_command(sent[sent_count++ % SENT_LIMIT], random);
    int length = (int)strlen(sent[(sent_count - 1) % SENT_LIMIT]);
    memcpy(line, sent[(sent_count - 1) % SENT_LIMIT], (size_t)length);
    line[length++] = '\n';
    if (random_next(random) % 4)
        length = harm(line, length, random);
    for (int i = 0; i < length; i++)
        feed(receiver, line[i]);
    return (uint32_t)length;
}

static uint32_t random_burst(struct receiver *receiver, uint32_t *random)
{
    uint32_t length = random_next(random) % 200 + 1;
    for (uint32_t i = 0; i < length; i++)
        feed(receiver, (uint8_t)random_next(random));
    return length;
}

/* After a line's end, whatever came before, a good command is understood. */
static void good_line_is_understood(struct receiver *receiver, uint32_t *random)
{
    unsigned long before = believed;
    char *text = sent[sent_count++ % SENT_LIMIT];
    make_command(text, random);
    feed(receiver, '\n');
    unsigned long leftover = believed - before; /* what the line end may have completed */
    for (const char *at = text; *at; at++)
        feed(receiver, (uint8_t)*at);
    feed(receiver, '\n');
    CHECK(believed == before + leftover + 1);
}

void test_noise(uint32_t seed, uint32_t bytes)
{
    struct receiver receiver = {.length = 0};
    uint32_t random = seed ? seed : 1;
    for (uint32_t done = 0, turn = 0; done < bytes; turn++) {
        done += turn % 2 ? random_burst(&receiver, &random) : corrupted_line(&receiver, &random);
        if (turn % 16 == 15)
            good_line_is_understood(&receiver, &random);
    }
    CHECK(receiver.bad_lines > 0);
    printf("seed %lu: %lu bytes of noise, %d commands sent, %lu believed, %lu typed by chance\n", (unsigned long)seed,
           (unsigned long)bytes, sent_count, believed, by_hand);
}

void test_receiver(void)
{
    struct receiver receiver = {.length = 0};
    for (int i = 0; i < COMMAND_LIMIT; i++)
        CHECK(!receiver_take(&receiver, 'a'));
    CHECK(receiver_take(&receiver, '\n') && strlen(receiver.text) == COMMAND_LIMIT);
    for (int i = 0; i < COMMAND_LIMIT + 1; i++)
        CHECK(!receiver_take(&receiver, 'a'));
    CHECK(!receiver_take(&receiver, '\n') && receiver.bad_lines == 1);
    /* empty lines, and the line feed after a carriage return, are nothing */
    CHECK(!receiver_take(&receiver, '\n') && !receiver_take(&receiver, '\r') && receiver.bad_lines == 1);
    CHECK(!receiver_take(&receiver, 'i') && !receiver_take(&receiver, 'd') && receiver_take(&receiver, '\r'));
    CHECK(strcmp(receiver.text, "id") == 0);
    CHECK(!receiver_take(&receiver, '\n') && receiver.bad_lines == 1);
}
