/*
 * The stand's pins on an ATmega328P at 16 MHz, and nothing else about the hardware. The same table stands in
 * hardware-notes/README.md.
 */
#ifndef BOARD_H
#define BOARD_H

#include <avr/io.h>
#include <stdbool.h>
#include <stdint.h>

/* PD0, PD1: USART0. */
#define WHEEL_A_BIT PD2       /* INT0, pull-up: wheel pulse */
#define STOP_BIT PD3          /* pull-up: normally closed contact to ground, high = open = stop */
#define WHEEL_B_BIT PD4       /* pull-up: direction */
#define CONVERTER_CLOCK_BIT PD5 /* clock shared by all converters, idle low */
/* PC0 .. PC5: data lines of converters 1 .. 6. */
#define MOTOR_BIT PB0         /* high = on */
#define LAMP_BIT PB1          /* high = on */
#define ALIVE_BIT PB5         /* the board's own LED */

/*
 * Single-bit flags shared by interrupts and foreground, in the one register that SBI, CBI, SBIS and SBIC reach: setting or
 * testing one is a single instruction and needs no interrupt lock.
 */
#define FLAGS GPIOR0
#define FLAG_COUNTING 0     /* a preset is being counted down */
#define FLAG_REACHED 1      /* the preset count was reached */
#define FLAG_LAST 5         /* the next forward pulse completes the preset count */
#define FLAG_WHEEL_HIGH 2   /* level of the pulse line after its newest edge */
#define FLAG_HOST_STOP 3    /* the stop character came in */
#define FLAG_SENDING 4      /* a character is on its way out */

/* Whole milliseconds since the newest edge of the pulse line, saturating; a register that IN and OUT reach. */
#define WHEEL_QUIET_MS GPIOR1

static inline void board_motor_off(void) { PORTB &= (uint8_t)~_BV(MOTOR_BIT); }
static inline void board_motor_on(void) { PORTB |= _BV(MOTOR_BIT); }
static inline bool board_motor_is_on(void) { return (PORTB & _BV(MOTOR_BIT)) != 0; }
static inline bool board_lamp_is_on(void) { return (PORTB & _BV(LAMP_BIT)) != 0; }
static inline bool board_stop_contact_open(void) { return (PIND & _BV(STOP_BIT)) != 0; }

static inline void board_lamp(bool on)
{
    if (on)
        PORTB |= _BV(LAMP_BIT);
    else
        PORTB &= (uint8_t)~_BV(LAMP_BIT);
}

static inline void board_alive_toggle(void) { PINB = _BV(ALIVE_BIT); }

/* All outputs low, inputs with their pull-ups. The motor pin was driven low before this, see reset.c. */
static inline void board_init(void)
{
    PORTB = 0;
    DDRB = _BV(MOTOR_BIT) | _BV(LAMP_BIT) | _BV(ALIVE_BIT);
    PORTD = _BV(WHEEL_A_BIT) | _BV(STOP_BIT) | _BV(WHEEL_B_BIT) | _BV(PD0);
    DDRD = _BV(CONVERTER_CLOCK_BIT);
    PORTC = 0x3F;
    DDRC = 0;
    FLAGS = 0;
    WHEEL_QUIET_MS = 0xFF;
}

#endif
