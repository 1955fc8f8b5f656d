#include "readings.h"

#include <string.h>

#include "board.h"
#include "configuration.h"
#include "converters.h"
#include "outbox.h"
#include "run.h"
#include "wheel.h"

/* Since the newest pulse, up to the limit; remembered there, because board time itself comes round again. */
static uint32_t pulse_age(const struct wheel_snapshot *wheel, uint32_t time_us)
{
    static uint32_t pulses_seen;
    static bool old = true;
    uint32_t pulses = wheel->forward + wheel->backward;
    if (pulses != pulses_seen)
        old = false;
    pulses_seen = pulses;
    if (old)
        return AGE_LIMIT_US;
    uint32_t age = time_us - clock_us(wheel->pulse);
    if (age >= AGE_LIMIT_US)
        old = true;
    return old ? AGE_LIMIT_US : age;
}

static uint8_t flags_now(void)
{
    uint8_t flags = 0;
    if (board_motor_is_on())
        flags |= READING_MOTOR_ON;
    if (board_lamp_is_on())
        flags |= READING_LAMP_ON;
    if (run_stop_open())
        flags |= READING_STOP_OPEN;
    if (run_host_silent())
        flags |= READING_HOST_SILENT;
    if (configuration_status() != SETTINGS_OK)
        flags |= READING_SETTINGS_BAD;
    return flags;
}

void readings_task(uint8_t elapsed_ms)
{
    struct wheel_snapshot wheel;
    struct conversion conversion;
    struct reading reading;
    if (!converters_due(elapsed_ms))
        return;
    wheel_snapshot(&wheel);
    if (wheel.reached)
        run_take_preset();
    reading.time_us = clock_us(wheel.now);
    reading.forward = wheel.forward;
    reading.backward = wheel.backward;
    reading.age_us = pulse_age(&wheel, reading.time_us);
    reading.state = run_state();
    reading.why = run_why();
    reading.flags = flags_now();
    converters_read(&conversion);
    if (conversion.fault)
        reading.flags |= READING_CONVERTER_FAULT;
    reading.cells = configuration_in_use()->cells;
    reading.missing = conversion.missing;
    memcpy(reading.counts, conversion.counts, sizeof reading.counts);
    outbox_reading(&reading);
}
