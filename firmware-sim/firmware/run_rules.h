/*
 * When a run ends by itself. Pure: compiles on the board and on a host. The preset count is not here: the pulse interrupt
 * looks after it.
 */
#ifndef RUN_RULES_H
#define RUN_RULES_H

#include "lines.h"

#define HOST_SILENT_MS 1000u
#define ARMED_LIMIT_MS 30000u
#define STALLED_MS 3000u

struct run_facts {
    enum run_state state;
    bool motor;             /* armed for the motor, not for a hand */
    bool host_stop;         /* the stop character came in */
    bool stop_open;         /* the stop contact is open */
    uint16_t silence_ms;    /* since the last word from the host */
    uint16_t armed_ms;      /* since arming */
    uint16_t still_ms;      /* since `go` or the newest pulse */
    uint32_t pulses_back;   /* back from the furthest point since `go` */
    uint16_t pulses_per_turn;
};

/* Why the run must end now, or WHY_NONE. */
enum run_why run_must_end(const struct run_facts *facts);

#endif
