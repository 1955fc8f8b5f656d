/*
 * Received bytes into commands, and commands into deeds.
 */
#ifndef DISPATCH_H
#define DISPATCH_H

#include <stdint.h>

/* To be called once a pass: carries out what has come in, up to the first command whose answer must wait. */
void dispatch_task(void);

/* Lines dropped, modulo 2^16. */
uint16_t dispatch_bad_lines(void);

#endif
