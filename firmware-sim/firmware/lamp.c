#include "lamp.h"

#include "board.h"
#include "configuration.h"
#include "run.h"
#include "wheel.h"

#define BEAT_MS 300u     /* from one short beat to the next */
#define BEAT_ON_MS 100u
#define END_MS 3000u     /* steadily on after the preset count */
#define TRY_MS 1000u     /* on to be seen */
#define ALIVE_MS 1000u   /* LED changes */

static uint16_t try_ms; /* of the trial, yet to come */

/* On in short beats during the last pulses, then steadily for a while. */
static bool wanted(uint16_t beat_ms)
{
    struct wheel_snapshot wheel;
    if (run_state() == STATE_DONE)
        return run_state_ms() < END_MS;
    if (run_state() != STATE_TURNING)
        return false;
    wheel_snapshot(&wheel);
    return wheel.remaining <= configuration_in_use()->warn_pulses && beat_ms < BEAT_ON_MS;
}

void lamp_task(uint8_t elapsed_ms)
{
    static uint16_t beat_ms, alive_ms;
    beat_ms += elapsed_ms;
    if (beat_ms >= BEAT_MS)
        beat_ms -= BEAT_MS;
    board_lamp(wanted(beat_ms) || try_ms > 0);
    try_ms = try_ms > elapsed_ms ? try_ms - elapsed_ms : 0;
    alive_ms += elapsed_ms;
    if (alive_ms >= ALIVE_MS) {
        alive_ms -= ALIVE_MS;
        board_alive_toggle();
    }
}

enum answer lamp_try_command(void)
{
    if (run_state() == STATE_ARMED || run_state() == STATE_TURNING)
        return ANSWER_STATE;
    try_ms = TRY_MS;
    return ANSWER_OK;
}
