/*
 * Figures about the board itself, sent every 2 s.
 */
#ifndef HEALTH_H
#define HEALTH_H

#include "lines.h"

/* The work of one pass begins, ends. */
void health_pass_begins(void);
void health_pass_ends(uint8_t elapsed_ms);

/* Collects all figures; loop times start afresh. */
void health_collect(struct health *health);

#endif
