#include "run.h"

#include "board.h"
#include "configuration.h"
#include "outbox.h"
#include "run_rules.h"
#include "store.h"
#include "wheel.h"

/* The stop contact must be seen open this often in a row (a few milliseconds), and closed this often, to be believed. */
#define STOP_OPEN_SAMPLES 3
#define STOP_CLOSED_SAMPLES 20

static enum run_state state;
static enum run_why why;
static bool motor;
static uint32_t preset_pulses;
static uint32_t key;
static uint16_t armings;

static bool stop_open;
static uint8_t stop_samples; /* in a row against `stop_open` */

static uint16_t silence_ms, state_ms, still_ms;
static uint32_t pulses_seen, least_remaining;

static void grow(uint16_t *ms, uint8_t elapsed_ms)
{
    *ms = *ms > UINT16_MAX - elapsed_ms ? UINT16_MAX : *ms + elapsed_ms;
}

/* ---- changing state ---- */

static void enter(enum run_state next, enum run_why reason, const struct wheel_snapshot *at, uint32_t time_us)
{
    struct event event = {time_us, next, reason, at->forward, at->backward};
    state = next;
    why = reason;
    state_ms = 0;
    outbox_event(&event);
}

static void enter_now(enum run_state next, enum run_why reason)
{
    struct wheel_snapshot now;
    wheel_snapshot(&now);
    enter(next, reason, &now, clock_us(now.now));
}

/* Ends the run, unless the preset count was reached first. */
static void halt(enum run_why reason)
{
    wheel_stop();
    run_take_preset();
    if (state != STATE_DONE)
        enter_now(STATE_HALTED, reason);
}

void run_take_preset(void)
{
    struct wheel_snapshot at;
    if (!(FLAGS & _BV(FLAG_REACHED)))
        return;
    wheel_take_reached(&at);
    enter(STATE_DONE, WHY_PRESET, &at, clock_us(at.pulse));
}

/* ---- watching ---- */

static void sense_stop(void)
{
    if (board_stop_contact_open() == stop_open) {
        stop_samples = 0;
        return;
    }
    stop_samples++;
    if (stop_samples >= (stop_open ? STOP_CLOSED_SAMPLES : STOP_OPEN_SAMPLES)) {
        stop_open = !stop_open;
        stop_samples = 0;
    }
}

/* Follows the wheel: how long it has stood, and how far it is back from its furthest point. Returns the latter. */
static uint32_t watch_wheel(uint8_t elapsed_ms)
{
    struct wheel_snapshot now;
    wheel_snapshot(&now);
    grow(&still_ms, elapsed_ms);
    if (now.forward + now.backward != pulses_seen)
        still_ms = 0;
    pulses_seen = now.forward + now.backward;
    if (now.remaining < least_remaining)
        least_remaining = now.remaining;
    return now.remaining - least_remaining;
}

void run_task(uint8_t elapsed_ms)
{
    struct run_facts facts;
    run_take_preset();
    sense_stop();
    grow(&silence_ms, elapsed_ms);
    grow(&state_ms, elapsed_ms);
    facts.pulses_back = watch_wheel(elapsed_ms);
    facts.state = state;
    facts.motor = motor;
    facts.host_stop = FLAGS & _BV(FLAG_HOST_STOP);
    facts.stop_open = stop_open;
    facts.silence_ms = silence_ms;
    facts.armed_ms = state_ms;
    facts.still_ms = still_ms;
    facts.pulses_per_turn = configuration_in_use()->pulses_per_turn;
    enum run_why reason = run_must_end(&facts);
    if (reason != WHY_NONE)
        halt(reason);
    if (facts.host_stop)
        FLAGS &= (uint8_t)~_BV(FLAG_HOST_STOP);
}

/* ---- commands ---- */

enum answer run_arm_command(bool for_motor, uint32_t pulses, bool settings_ok, uint32_t *new_key)
{
    if (state == STATE_TURNING)
        return ANSWER_STATE;
    if (!settings_ok)
        return ANSWER_SETTINGS;
    if (stop_open)
        return ANSWER_BUTTON;
    armings++;
    motor = for_motor;
    preset_pulses = pulses;
    /* The boot count makes a key of before a reset a wrong one. */
    key = (uint32_t)store_boot() << 16 | armings;
    *new_key = key;
    enter_now(STATE_ARMED, why);
    return ANSWER_OK;
}

enum answer run_go_command(uint32_t with_key)
{
    if (state != STATE_ARMED)
        return ANSWER_STATE;
    if (with_key != key)
        return ANSWER_KEY;
    if (stop_open || board_stop_contact_open())
        return ANSWER_BUTTON;
    if (!wheel_start(preset_pulses, motor))
        return ANSWER_STATE;
    still_ms = 0;
    least_remaining = preset_pulses;
    enter_now(STATE_TURNING, why);
    return ANSWER_OK;
}

enum answer run_stop_command(void)
{
    if (state == STATE_ARMED || state == STATE_TURNING)
        halt(WHY_HOST);
    return ANSWER_OK;
}

void run_host_spoke(void) { silence_ms = 0; }

/* ---- start-up and figures ---- */

void run_init(void) { stop_open = board_stop_contact_open(); }

enum run_state run_state(void) { return state; }
enum run_why run_why(void) { return why; }
uint16_t run_state_ms(void) { return state_ms; }
uint8_t run_armings(void) { return (uint8_t)armings; }
bool run_stop_open(void) { return stop_open; }
bool run_host_silent(void) { return silence_ms >= HOST_SILENT_MS; }
