/*
 * USART0 at 115 200 baud: bytes in and out through two rings, and the stop character, which waits in neither.
 */
#ifndef SERIAL_H
#define SERIAL_H

#include <stdbool.h>
#include <stdint.h>

#include "text.h"

void serial_init(void);

/* Next received byte; false when there is none. A byte spoiled on the line, or after a loss, comes as 0. */
bool serial_take(uint8_t *byte);

/* Bytes that can be sent without waiting, 0 to 255. */
uint8_t serial_room(void);

/* Sends a line for which there is room. */
void serial_send(const struct line *line);

/* To be called once a pass: keeps count of what was lost. */
void serial_task(void);

/* Received bytes lost, modulo 2^16. */
uint16_t serial_lost(void);

#endif
