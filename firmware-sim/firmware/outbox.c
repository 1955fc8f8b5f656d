#include "outbox.h"

#include "configuration.h"
#include "health.h"
#include "reset.h"
#include "run.h"
#include "serial.h"
#include "store.h"

/*
 * Every line asks for room for the longest, so a short one never slips past a long one for ever; and readings take turns with
 * all else, so that neither can starve the other.
 */
#define ROOM_NEEDED LINE_BUFFER

#define EVENTS 4 /* power of two */

enum answer_form { FORM_NONE, FORM_PLAIN, FORM_KEY, FORM_HELP };

static struct line line;
static uint16_t sequence;
static uint16_t lost;
static bool dropped; /* a reading since the last one sent */

static struct reading reading;
static bool reading_wanted, readings_turn;
static bool identity_wanted, health_wanted;
static uint8_t setting_next = SETTINGS_KEYS;
static enum answer_form form;
static struct {
    uint16_t tag;
    enum answer answer;
    uint32_t key;
} reply;

static struct event events[EVENTS];
static uint8_t events_head, events_count;

/* ---- start-up ---- */

void outbox_init(void)
{
    line.length = 0;
    put_char(&line, '\r');
    put_char(&line, '\n');
    serial_send(&line);
    outbox_identity();
}

/* ---- asking ---- */

void outbox_identity(void) { identity_wanted = true; }
void outbox_health(void) { health_wanted = true; }
void outbox_settings(void) { setting_next = 0; }

/* More changes of state than fit do not happen within the time of a line; should they, the newest are lost, with a number. */
void outbox_event(const struct event *event)
{
    if (events_count == EVENTS) {
        sequence++;
        return;
    }
    events[(uint8_t)(events_head + events_count) % EVENTS] = *event;
    events_count++;
}

void outbox_answer(uint16_t tag, enum answer answer)
{
    form = FORM_PLAIN;
    reply.tag = tag;
    reply.answer = answer;
}

void outbox_answer_key(uint16_t tag, uint32_t key)
{
    form = FORM_KEY;
    reply.tag = tag;
    reply.key = key;
}

void outbox_answer_help(uint16_t tag)
{
    form = FORM_HELP;
    reply.tag = tag;
}

bool outbox_busy(void) { return form != FORM_NONE; }

/* ---- sending ---- */

static void send_answer(void)
{
    switch (form) {
    case FORM_KEY: line_answer_key(&line, sequence++, reply.tag, reply.key); break;
    case FORM_HELP: line_answer_help(&line, sequence++, reply.tag); break;
    default: line_answer(&line, sequence++, reply.tag, reply.answer);
    }
    form = FORM_NONE;
}

static void send_identity(void)
{
    struct identity identity = {configuration_status(), store_boot(), reset_cause(), run_armings()};
    line_identity(&line, sequence++, &identity, configuration_in_use());
    identity_wanted = false;
}

static void send_health(void)
{
    struct health health;
    health_collect(&health);
    line_health(&line, sequence++, &health);
    health_wanted = false;
}

static void send_event(void)
{
    line_event(&line, sequence++, &events[events_head]);
    events_head = (uint8_t)(events_head + 1) % EVENTS;
    events_count--;
}

static void send_setting(void) { line_setting(&line, sequence++, configuration_in_use(), setting_next++); }

static void send_reading(void)
{
    if (dropped)
        reading.flags |= READING_DROPPED;
    dropped = false;
    reading_wanted = false;
    line_reading(&line, sequence++, &reading);
}

static bool other_waits(void)
{
    return events_count || identity_wanted || health_wanted || setting_next < SETTINGS_KEYS || form != FORM_NONE;
}

/* The answer comes last: it says that what was asked for has been sent. */
static void send_other(void)
{
    if (events_count)
        send_event();
    else if (identity_wanted)
        send_identity();
    else if (health_wanted)
        send_health();
    else if (setting_next < SETTINGS_KEYS)
        send_setting();
    else
        send_answer();
}

void outbox_task(void)
{
    while ((reading_wanted || other_waits()) && serial_room() >= ROOM_NEEDED) {
        if (reading_wanted && (readings_turn || !other_waits()))
            send_reading();
        else
            send_other();
        readings_turn = !readings_turn;
        serial_send(&line);
    }
}

void outbox_reading(const struct reading *newest)
{
    if (reading_wanted) {
        sequence++;
        lost++;
        dropped = true;
    }
    reading = *newest;
    reading_wanted = true;
}

uint16_t outbox_lost(void) { return lost; }
