#include "crc16.h"

/*
 * One byte at a time without a table: the polynomial's feedback folded into shifts, each within one of the two bytes, which
 * suits this chip. A table of 512 bytes would hardly be faster.
 */
static inline uint16_t add(uint16_t crc, uint8_t byte)
{
    uint8_t x = (uint8_t)(crc >> 8) ^ byte;
    x ^= x >> 4;
    uint8_t high = (uint8_t)crc ^ (uint8_t)(x << 4) ^ (uint8_t)(x >> 3);
    uint8_t low = x ^ (uint8_t)(x << 5);
    return (uint16_t)((uint16_t)high << 8) | low;
}

uint16_t crc16(const void *bytes, uint8_t length)
{
    const uint8_t *at = bytes;
    uint16_t crc = CRC16_START;
    while (length--)
        crc = add(crc, *at++);
    return crc;
}
