/*
 * The stand's firmware in simavr, driven by a stream of stimuli (stimulus.h) on standard input:
 *
 *   simavr-stand <program.hex> <eeprom.bin> [pty]
 *
 * On standard output, one line each:
 *
 *   pty <path>                     once, when asked for; the host's bytes then come from there
 *   <cycle> motor <0|1>            the motor output changed
 *   <cycle> line <text>            the board sent a line (without its end); the cycle at which its last byte was out
 *   <cycle> at <motor> <lamp> <due 1> ... <due 6>
 *                                  answer to `run`: the outputs, and the cycle of each converter's next conversion (- none)
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "chip.h"
#include "host_line.h"
#include "stimulus.h"
#include "terminal.h"

#define STIMULUS_LINE_MAX (2 * SAY_BYTES_MAX + 64)
#define BOARD_LINE_MAX 256

/* How often a host on the terminal is looked at: well below the time of a byte. */
#define LOOK_CYCLES 800

static bool on_terminal;

/* ---- what the board does ---- */

static void motor_changed(bool on, uint64_t cycle) { printf("%" PRIu64 " motor %d\n", cycle, on); }

static void byte_came(uint8_t byte, uint64_t cycle)
{
    static char line[BOARD_LINE_MAX];
    static size_t length;
    if (on_terminal)
        terminal_write(byte);
    if (byte == '\n') {
        printf("%" PRIu64 " line %.*s\n", cycle, (int)length, line);
        length = 0;
    } else if (byte != '\r' && length < sizeof line) {
        line[length++] = (char)byte;
    }
}

/* ---- time ---- */

static void serve_terminal(void)
{
    uint8_t bytes[256];
    size_t room = host_line_room();
    size_t count = terminal_read(bytes, room < sizeof bytes ? room : sizeof bytes);
    host_line_send(bytes, count);
}

static avr_cycle_count_t wake(avr_t *avr, avr_cycle_count_t when, void *unused)
{
    (void)avr;
    (void)when;
    (void)unused;
    return 0;
}

/* The timer bounds a sleep of the chip, which simavr would take in one stride otherwise. */
static void run_exactly(avr_t *avr, uint64_t cycle)
{
    if (cycle <= avr->cycle)
        return;
    avr_cycle_timer_register(avr, cycle - avr->cycle, wake, NULL);
    chip_run(avr, cycle);
    avr_cycle_timer_cancel(avr, wake, NULL);
}

static void run_to(avr_t *avr, uint64_t cycle)
{
    while (on_terminal && avr->cycle < cycle) {
        uint64_t next = avr->cycle + LOOK_CYCLES;
        serve_terminal();
        run_exactly(avr, next < cycle ? next : cycle);
    }
    run_exactly(avr, cycle);
}

static void report(const avr_t *avr)
{
    printf("%" PRIu64 " at %d %d", (uint64_t)avr->cycle, chip_motor(), chip_lamp());
    for (unsigned cell = 0; cell < CELLS_MAX; cell++) {
        uint64_t due = chip_conversion_due(cell);
        if (due == UINT64_MAX)
            printf(" -");
        else
            printf(" %" PRIu64, due);
    }
    printf("\n");
    fflush(stdout);
}

/* ---- what is done to it ---- */

static void apply(avr_t *avr, const struct stimulus *stimulus)
{
    run_to(avr, stimulus->cycle);
    switch (stimulus->kind) {
    case STIMULUS_WHEEL: chip_wheel(stimulus->a, stimulus->b); break;
    case STIMULUS_STOP: chip_stop_contact(stimulus->a); break;
    case STIMULUS_CELL: chip_cell(avr, stimulus->cell, stimulus->period, stimulus->value); break;
    case STIMULUS_SAY:
        if (host_line_send(stimulus->bytes, stimulus->count) != stimulus->count) {
            fprintf(stderr, "the host sends more than the line can carry\n");
            exit(1);
        }
        break;
    case STIMULUS_RUN: report(avr); break;
    }
}

int main(int count, char **arguments)
{
    char line[STIMULUS_LINE_MAX];
    if (count < 3) {
        fprintf(stderr, "usage: %s <program.hex> <eeprom.bin> [pty]\n", arguments[0]);
        return 2;
    }
    on_terminal = count > 3 && strcmp(arguments[3], "pty") == 0;
    if (on_terminal) {
        printf("pty %s\n", terminal_make());
        fflush(stdout);
    }
    avr_t *avr = chip_make(arguments[1], arguments[2], motor_changed);
    host_line_make(avr, byte_came);
    while (fgets(line, sizeof line, stdin)) {
        struct stimulus stimulus;
        if (!stimulus_read(line, &stimulus)) {
            fprintf(stderr, "not a stimulus: %s", line);
            return 1;
        }
        apply(avr, &stimulus);
    }
    return 0;
}
