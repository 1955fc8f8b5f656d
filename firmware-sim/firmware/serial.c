#include "serial.h"

#include <avr/interrupt.h>

#include "board.h"

#define STOP_CHARACTER '!'
#define RX_SIZE 128
#define RX_MASK (RX_SIZE - 1)

/* The nearest to 115 200 with double speed: 16 MHz / 8 / 17 = 117 647. */
#define DIVIDER 16

static volatile uint8_t rx_ring[RX_SIZE];
static volatile uint8_t rx_head, rx_tail;
static volatile uint8_t rx_lost; /* modulo 2^8: serial_task follows it */
static uint16_t rx_lost_followed;

/* 256 bytes, so that the indices wrap by themselves. Head: foreground. Tail: interrupt. */
static volatile uint8_t tx_ring[256];
static volatile uint8_t tx_head, tx_tail;

/* ---- interrupts ---- */

/*
 * The last free place of the ring takes a 0 for the first byte lost, which spoils the line that lost it and no other.
 * Budget 90 cycles, worst 85 (how it was found: wheel.c).
 */
ISR(USART_RX_vect)
{
    uint8_t status = UCSR0A;
    uint8_t byte = UDR0;
    if (byte == STOP_CHARACTER) {
        board_motor_off();
        FLAGS |= _BV(FLAG_HOST_STOP);
        return;
    }
    uint8_t head = rx_head;
    uint8_t next = (head + 1) & RX_MASK;
    uint8_t room = (rx_tail - next) & RX_MASK;
    if (room <= 1 || (status & (_BV(FE0) | _BV(DOR0)))) {
        byte = 0;
        rx_lost++;
    }
    if (room) {
        rx_ring[head] = byte;
        rx_head = next;
    }
}

/*
 * Sends on 'transmit complete', not on 'data register empty': it stays enabled for good, so UCSR0B is written once, and an
 * empty ring needs no switching off. The price is the time from one stop bit to the next start bit, below 25 us of 85.
 * Budget 90 cycles, worst 60 (how it was found: wheel.c).
 */
ISR(USART_TX_vect)
{
    uint8_t tail = tx_tail;
    if (tail == tx_head) {
        FLAGS &= (uint8_t)~_BV(FLAG_SENDING);
        return;
    }
    UDR0 = tx_ring[tail];
    tx_tail = tail + 1;
}

/* ---- foreground ---- */

void serial_init(void)
{
    UCSR0A = _BV(U2X0);
    UBRR0 = DIVIDER;
    UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
    UCSR0B = _BV(RXCIE0) | _BV(TXCIE0) | _BV(RXEN0) | _BV(TXEN0);
}

bool serial_take(uint8_t *byte)
{
    uint8_t tail = rx_tail;
    if (tail == rx_head)
        return false;
    *byte = rx_ring[tail];
    rx_tail = (tail + 1) & RX_MASK;
    return true;
}

uint8_t serial_room(void) { return (uint8_t)(tx_tail - tx_head - 1); }

void serial_send(const struct line *line)
{
    uint8_t head = tx_head;
    for (uint8_t i = 0; i < line->length; i++)
        tx_ring[head++] = (uint8_t)line->text[i];
    tx_head = head;
    /* No lock: as long as something is being sent the interrupt will see the new head, and after that it does not come. */
    if (!(FLAGS & _BV(FLAG_SENDING))) {
        uint8_t tail = tx_tail;
        FLAGS |= _BV(FLAG_SENDING);
        tx_tail = tail + 1;
        UDR0 = tx_ring[tail];
    }
}

void serial_task(void) { rx_lost_followed += (uint8_t)(rx_lost - (uint8_t)rx_lost_followed); }

uint16_t serial_lost(void) { return rx_lost_followed; }
