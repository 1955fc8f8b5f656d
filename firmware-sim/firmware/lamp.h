/*
 * The lamp or horn for who turns the wheel by hand, and the board's own LED.
 */
#ifndef LAMP_H
#define LAMP_H

#include <stdint.h>

#include "lines.h"

/* To be called once a pass with the milliseconds gone by. */
void lamp_task(uint8_t elapsed_ms);

/* Command: a second's light, to try bulb and wires. Refused while armed or turning, when the lamp has something to say. */
enum answer lamp_try_command(void);

#endif
