/*
 * The serial line between a host and the chip: bytes towards the chip at the pace of 115 200 baud, bytes from it as they leave.
 */
#ifndef HOST_LINE_H
#define HOST_LINE_H

#include <sim_avr.h>
#include <stddef.h>
#include <stdint.h>

/* Called with each byte from the chip, and the cycle at which it is out. */
typedef void (*byte_listener)(uint8_t byte, uint64_t cycle);

void host_line_make(avr_t *avr, byte_listener listener);

/* Takes bytes to send, up to the room there is; returns how many. */
size_t host_line_send(const uint8_t *bytes, size_t count);

/* Bytes that host_line_send would take now. */
size_t host_line_room(void);

#endif
