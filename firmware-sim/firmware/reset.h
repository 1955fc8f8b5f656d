/*
 * The first instructions after a reset, before any variable has its value: motor off, why the chip was reset, watchdog on,
 * stack painted.
 */
#ifndef RESET_H
#define RESET_H

#include <stdint.h>

/* Why the chip was reset: the bits RESET_... of lines.h. */
uint8_t reset_cause(void);

/* Bytes between variables and stack that the stack has never reached since reset. */
uint16_t reset_stack_unused(void);

#endif
