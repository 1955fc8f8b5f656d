/*
 * Bytes from the host into lines. Pure: compiles on the board and on a host.
 *
 * A line ends at a line feed or a carriage return (plain terminals send only that); empty lines are nothing. A line that is
 * too long or holds a byte that is not printable ASCII is dropped whole and counted.
 */
#ifndef RECEIVER_H
#define RECEIVER_H

#include <stdbool.h>
#include <stdint.h>

/* Longest line to the board, check included, without its end. */
#define COMMAND_LIMIT 64

struct receiver {
    uint8_t length;
    bool spoiled;
    uint16_t bad_lines; /* dropped lines, modulo 2^16 */
    char text[COMMAND_LIMIT + 1];
};

/*
 * Takes one byte. True when it ended a good line, which then stands in `text` with a final zero and stays until the next
 * call.
 */
bool receiver_take(struct receiver *receiver, uint8_t byte);

#endif
