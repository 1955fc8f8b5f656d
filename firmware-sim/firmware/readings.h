/*
 * One reading: the wheel, the state and the converters at one moment.
 */
#ifndef READINGS_H
#define READINGS_H

#include <stdint.h>

/* To be called once a pass with the milliseconds gone by: sends a reading when one is due. */
void readings_task(uint8_t elapsed_ms);

#endif
