#include "run_rules.h"

enum run_why run_must_end(const struct run_facts *facts)
{
    bool armed = facts->state == STATE_ARMED;
    bool turning = facts->state == STATE_TURNING;
    if (!armed && !turning)
        return WHY_NONE;
    if (facts->stop_open)
        return WHY_BUTTON;
    if (facts->host_stop)
        return WHY_HOST;
    /* A wheel turned by hand outlives its host, so that a restarted host finds the totals. */
    if ((armed || facts->motor) && facts->silence_ms >= HOST_SILENT_MS)
        return WHY_SILENT;
    if (armed)
        return facts->armed_ms >= ARMED_LIMIT_MS ? WHY_EXPIRED : WHY_NONE;
    if (!facts->motor)
        return WHY_NONE;
    if (2 * facts->pulses_back >= facts->pulses_per_turn && facts->pulses_back > 0)
        return WHY_REVERSE;
    return facts->still_ms >= STALLED_MS ? WHY_STALLED : WHY_NONE;
}
