/*
 * The decisions: debounce, when a run ends, numbers as text.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "debounce.h"
#include "run_rules.h"
#include "text.h"

static void edges_count_after_quiet_only(void)
{
    const uint16_t debounce = 400; /* ticks: 200 us */
    CHECK(debounce_edge(false, true, 60000, 255, debounce) == EDGE_FALLING);
    CHECK(debounce_edge(false, false, 0, 0, debounce) == EDGE_BOUNCED);
    /* risen and fallen again before the level was read */
    CHECK(debounce_edge(false, false, 400, 0, debounce) == EDGE_PULSE);
    CHECK(debounce_edge(false, false, 399, 0, debounce) == EDGE_BOUNCED);
    CHECK(debounce_edge(true, false, 400, 0, debounce) == EDGE_PULSE);
    CHECK(debounce_edge(true, false, 399, 0, debounce) == EDGE_BOUNCED);
    CHECK(debounce_edge(true, false, 0, 0, debounce) == EDGE_BOUNCED);
    /* a spike downwards between two readings of the level */
    CHECK(debounce_edge(true, true, 60000, 255, debounce) == EDGE_BOUNCED);
    /* ticks come round after 32.8 ms; the milliseconds tell */
    CHECK(debounce_edge(true, false, 0, LONG_QUIET_MS, debounce) == EDGE_PULSE);
    CHECK(debounce_edge(true, false, 3, 255, 40000) == EDGE_PULSE);
    /* the longest debounce fits into both */
    CHECK(debounce_edge(true, false, 39999, 20, 40000) == EDGE_BOUNCED);
    CHECK(debounce_edge(true, false, 40000, 20, 40000) == EDGE_PULSE);
    CHECK((LONG_QUIET_MS - 1) * 1000u * TICKS_PER_US > 40000 && (LONG_QUIET_MS + 1) * 1000u * TICKS_PER_US < 65536);
}

static struct run_facts turning(bool motor)
{
    struct run_facts facts = {.state = STATE_TURNING, .motor = motor, .pulses_per_turn = 36};
    return facts;
}

static void nothing_ends_what_does_not_run(void)
{
    static const enum run_state states[] = {STATE_IDLE, STATE_DONE, STATE_HALTED};
    for (int i = 0; i < 3; i++) {
        struct run_facts facts = {states[i], true, true, true, 65535, 65535, 65535, 1000, 36};
        CHECK(run_must_end(&facts) == WHY_NONE);
    }
}

static void a_motor_run_ends(void)
{
    struct run_facts facts = turning(true);
    CHECK(run_must_end(&facts) == WHY_NONE);
    facts.silence_ms = 999;
    facts.still_ms = 2999;
    facts.pulses_back = 17;
    CHECK(run_must_end(&facts) == WHY_NONE);
    facts.pulses_back = 18;
    CHECK(run_must_end(&facts) == WHY_REVERSE);
    facts.pulses_back = 0xFFFFFF;
    CHECK(run_must_end(&facts) == WHY_REVERSE);
    facts.pulses_back = 0;
    facts.still_ms = 3000;
    CHECK(run_must_end(&facts) == WHY_STALLED);
    facts.silence_ms = 1000;
    CHECK(run_must_end(&facts) == WHY_SILENT);
    facts.host_stop = true;
    CHECK(run_must_end(&facts) == WHY_HOST);
    facts.stop_open = true;
    CHECK(run_must_end(&facts) == WHY_BUTTON);
}

static void one_pulse_per_turn_allows_none_back(void)
{
    struct run_facts facts = turning(true);
    facts.pulses_per_turn = 1;
    CHECK(run_must_end(&facts) == WHY_NONE);
    facts.pulses_back = 1;
    CHECK(run_must_end(&facts) == WHY_REVERSE);
}

static void a_hand_outlives_its_host(void)
{
    struct run_facts facts = turning(false);
    facts.silence_ms = facts.still_ms = 65535;
    facts.pulses_back = 500;
    CHECK(run_must_end(&facts) == WHY_NONE);
    facts.host_stop = true;
    CHECK(run_must_end(&facts) == WHY_HOST);
    facts.host_stop = false;
    facts.stop_open = true;
    CHECK(run_must_end(&facts) == WHY_BUTTON);
}

static void an_arming_runs_out(void)
{
    for (int motor = 0; motor < 2; motor++) {
        struct run_facts facts = {.state = STATE_ARMED, .motor = motor, .armed_ms = 29999, .pulses_per_turn = 36};
        facts.still_ms = 65535;
        CHECK(run_must_end(&facts) == WHY_NONE);
        facts.armed_ms = 30000;
        CHECK(run_must_end(&facts) == WHY_EXPIRED);
        facts.silence_ms = 1000;
        CHECK(run_must_end(&facts) == WHY_SILENT);
        facts.stop_open = true;
        CHECK(run_must_end(&facts) == WHY_BUTTON);
    }
}

/* Against the C library, over numbers of every length. */
static void numbers_read_and_print_as_in_the_library(void)
{
    uint32_t random = 7;
    for (int round = 0; round < 20000; round++) {
        uint32_t value = random_next(&random) >> (random_next(&random) % 32);
        uint32_t back = 0;
        int32_t signed_back = 0;
        char expected[32];
        struct line line = {.length = 0};
        put_unsigned(&line, value);
        snprintf(expected, sizeof expected, "%lu", (unsigned long)value);
        CHECK(line.length == strlen(expected) && memcmp(line.text, expected, line.length) == 0);
        CHECK(read_unsigned(expected, &back) && back == value);
        line.length = 0;
        put_signed(&line, (int32_t)value);
        snprintf(expected, sizeof expected, "%ld", (long)(int32_t)value);
        CHECK(line.length == strlen(expected) && memcmp(line.text, expected, line.length) == 0);
        CHECK((int32_t)value == INT32_MIN || (read_signed(expected, &signed_back) && signed_back == (int32_t)value));
    }
}

static void a_full_line_takes_no_more(void)
{
    struct line line = {.length = 0};
    for (int i = 0; i < 300; i++)
        put_char(&line, 'a');
    CHECK(line.length == LINE_BUFFER);
}

void test_rules(void)
{
    edges_count_after_quiet_only();
    nothing_ends_what_does_not_run();
    a_motor_run_ends();
    one_pulse_per_turn_allows_none_back();
    a_hand_outlives_its_host();
    an_arming_runs_out();
    numbers_read_and_print_as_in_the_library();
    a_full_line_takes_no_more();
}
