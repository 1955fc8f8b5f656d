/*
 * The lamp or horn for who turns the wheel by hand, and the board's own LED.
 */
#ifndef LAMP_H
#define LAMP_H

#include <stdint.h>

/* To be called once a pass with the milliseconds gone by. */
void lamp_task(uint8_t elapsed_ms);

#endif
