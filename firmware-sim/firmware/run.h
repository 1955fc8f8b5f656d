/*
 * The run: armed, turning, ended. The only place that switches the motor on.
 */
#ifndef RUN_H
#define RUN_H

#include <stdbool.h>
#include <stdint.h>

#include "lines.h"

void run_init(void);

/* To be called once a pass with the milliseconds gone by: ends a run that must end. */
void run_task(uint8_t elapsed_ms);

/* Takes a preset count that was reached, without waiting for the next pass. */
void run_take_preset(void);

/* Commands. `arm` gives the key for `go`. Settings must be ok for `arm`. */
enum answer run_arm_command(bool motor, uint32_t pulses, bool settings_ok, uint32_t *key);
enum answer run_go_command(uint32_t key);
enum answer run_stop_command(void);

/* A line with a good check came from the host. */
void run_host_spoke(void);

enum run_state run_state(void);
enum run_why run_why(void);
/* Milliseconds in the present state, saturating. */
uint16_t run_state_ms(void);
/* Armings since reset, modulo 256: the lowest byte of the newest key. */
uint8_t run_armings(void);
bool run_stop_open(void);
bool run_host_silent(void);

#endif
