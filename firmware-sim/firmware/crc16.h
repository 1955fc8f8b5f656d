/* CRC-16 with polynomial 0x1021, start 0xFFFF, nothing reflected, no final exclusive-or: on the wire and in EEPROM. */
#ifndef CRC16_H
#define CRC16_H

#include <stdint.h>

#define CRC16_START 0xFFFFu

/* The check of `length` bytes. */
uint16_t crc16(const void *bytes, uint8_t length);

#endif
