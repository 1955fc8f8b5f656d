/*
 * A pseudo-terminal, so that a serial driver opens the emulated chip like any port.
 */
#ifndef TERMINAL_H
#define TERMINAL_H

#include <stddef.h>
#include <stdint.h>

/* Makes one and returns its path. Ends the program with a sentence where there are none. */
const char *terminal_make(void);

/* What came from the host, up to `most` bytes; 0 when nothing did. */
size_t terminal_read(uint8_t *bytes, size_t most);

/* To the host. What it does not take in time is lost, as on a real line. */
void terminal_write(uint8_t byte);

#endif
