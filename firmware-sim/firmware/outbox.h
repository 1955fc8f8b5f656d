/*
 * Lines on their way out. What must not be lost waits here for room in the transmit ring; nothing ever waits for it.
 */
#ifndef OUTBOX_H
#define OUTBOX_H

#include <stdbool.h>
#include <stdint.h>

#include "lines.h"

/* After a reset: ends the line that the reset may have cut off, and asks for the identity. */
void outbox_init(void);

/* Each asks for lines to be sent as soon as there is room. */
void outbox_identity(void);
void outbox_health(void);
void outbox_settings(void);
void outbox_event(const struct event *event);
/* One answer at a time: see outbox_busy. It follows what was asked for before it. */
void outbox_answer(uint16_t tag, enum answer answer);
void outbox_answer_key(uint16_t tag, uint32_t key);
void outbox_answer_help(uint16_t tag);

/* True while an answer, or what it waits for, is still to be sent. */
bool outbox_busy(void);

/* Takes the newest reading. One that still waits for room is dropped for it: counted, and marked in the next one sent. */
void outbox_reading(const struct reading *newest);

/* To be called once a pass: sends what there is room for. */
void outbox_task(void);

/* Readings dropped, modulo 2^16. */
uint16_t outbox_lost(void);

#endif
