#include "outbox.h"

#include "configuration.h"
#include "health.h"
#include "reset.h"
#include "serial.h"
#include "store.h"

/*
 * Every line asks for room for the longest, so a short one never slips past a long one for ever. Settings come in a bunch:
 * they ask for a nearly empty ring, so that a reading finds room between them.
 */
#define ROOM_NEEDED LINE_BUFFER
#define ROOM_FOR_SETTING 230

/* After this long the readings step back until the waiting line has gone out. */
#define OVERDUE_MS 50

#define EVENTS 4 /* power of two */

enum answer_form { FORM_NONE, FORM_PLAIN, FORM_KEY, FORM_HELP };

static struct line line;
static uint16_t sequence;
static uint16_t lost;
static bool dropped; /* a reading since the last one sent */
static uint8_t waiting_ms;

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
    struct identity identity = {configuration_status(), store_boot(), reset_cause()};
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

/* Sends the first line that waits, if there is room for it; the answer comes last. False when none waits or none fits. */
static bool send_next(void)
{
    bool setting = !events_count && !identity_wanted && !health_wanted && setting_next < SETTINGS_KEYS;
    if (!events_count && !identity_wanted && !health_wanted && !setting && form == FORM_NONE)
        return false;
    if (serial_room() < (setting && waiting_ms < OVERDUE_MS ? ROOM_FOR_SETTING : ROOM_NEEDED))
        return false;
    if (events_count)
        send_event();
    else if (identity_wanted)
        send_identity();
    else if (health_wanted)
        send_health();
    else if (setting)
        line_setting(&line, sequence++, configuration_in_use(), setting_next++);
    else
        send_answer();
    serial_send(&line);
    waiting_ms = 0;
    return true;
}

static bool anything_waits(void)
{
    return events_count || identity_wanted || health_wanted || setting_next < SETTINGS_KEYS || form != FORM_NONE;
}

void outbox_task(uint8_t elapsed_ms)
{
    while (send_next())
        continue;
    if (!anything_waits())
        waiting_ms = 0;
    else if (waiting_ms < OVERDUE_MS)
        waiting_ms = waiting_ms + elapsed_ms > OVERDUE_MS ? OVERDUE_MS : waiting_ms + elapsed_ms;
}

void outbox_reading(struct reading *reading)
{
    uint16_t number = sequence++;
    if (serial_room() < ROOM_NEEDED || waiting_ms >= OVERDUE_MS) {
        lost++;
        dropped = true;
        return;
    }
    if (dropped)
        reading->flags |= READING_DROPPED;
    dropped = false;
    line_reading(&line, number, reading);
    serial_send(&line);
}

uint16_t outbox_lost(void) { return lost; }
