#include "host_line.h"

#include <avr_uart.h>
#include <math.h>
#include <string.h>

#include "chip.h"

/* A start bit, eight data bits, a stop bit, at 115 200 baud. */
#define BYTE_CYCLES (10.0 * CYCLES_PER_SECOND / 115200)

/* What a byte takes at the divider that the firmware sets: 8 x 17 cycles a bit. */
#define CHIP_BYTE_CYCLES 1360

/* A power of two: the counters come round by themselves. */
#define QUEUE_BYTES 4096

static avr_t *chip;
static avr_irq_t *to_chip;
static avr_uart_t *uart;
static byte_listener on_byte;
static uint8_t queue[QUEUE_BYTES];
static size_t queued, sent;
static double arrival; /* cycle, with fraction, at which the byte under way is complete */

/* simavr counts a parity bit that nobody asked for into the time of a byte. */
static void mend_pace(void) { uart->cycles_per_byte = CHIP_BYTE_CYCLES; }

/* simavr gives a byte to the program the time of one byte after it was told of it, so it is told that much earlier. */
static avr_cycle_count_t hand_over(avr_t *avr, avr_cycle_count_t when, void *unused)
{
    (void)avr;
    (void)when;
    (void)unused;
    mend_pace();
    avr_raise_irq(to_chip, queue[sent++ % QUEUE_BYTES]);
    if (sent == queued)
        return 0;
    arrival += BYTE_CYCLES;
    return (avr_cycle_count_t)ceil(arrival) - CHIP_BYTE_CYCLES;
}

static void came_out(struct avr_irq_t *irq, uint32_t value, void *unused)
{
    (void)irq;
    (void)unused;
    mend_pace();
    on_byte((uint8_t)value, chip->cycle + CHIP_BYTE_CYCLES);
}

size_t host_line_room(void) { return QUEUE_BYTES - (queued - sent); }

size_t host_line_send(const uint8_t *bytes, size_t count)
{
    size_t taken = count < host_line_room() ? count : host_line_room();
    bool idle = queued == sent;
    for (size_t i = 0; i < taken; i++)
        queue[queued++ % QUEUE_BYTES] = bytes[i];
    if (idle && taken > 0) {
        double now = (double)chip->cycle;
        arrival = (arrival > now ? arrival : now) + BYTE_CYCLES;
        avr_cycle_timer_register(chip, (avr_cycle_count_t)ceil(arrival) - CHIP_BYTE_CYCLES - chip->cycle, hand_over, NULL);
    }
    return taken;
}

void host_line_make(avr_t *avr, byte_listener listener)
{
    uint32_t quiet = 0;
    chip = avr;
    on_byte = listener;
    for (avr_io_t *io = avr->io_port; io; io = io->next)
        if (strcmp(io->kind, "uart") == 0)
            uart = (avr_uart_t *)io;
    avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &quiet);
    to_chip = avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_INPUT);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUTPUT), came_out, NULL);
}
