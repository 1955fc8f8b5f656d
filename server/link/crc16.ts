/** CRC-16 with polynomial 0x1021, start value 0xFFFF, nothing reflected, no final exclusive-or; `123456789` gives 0x29B1. */

const table = Uint16Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte << 8;
  for (let bit = 0; bit < 8; bit++) {
    remainder = remainder & 0x8000 ? (remainder << 1) ^ 0x1021 : remainder << 1;
  }
  return remainder & 0xffff;
});

/** The check of the first `length` characters of an ASCII text, 0 to 65535. */
export function crc16(text: string, length = text.length): number {
  let crc = 0xffff;
  for (let i = 0; i < length; i++) {
    crc = ((crc << 8) & 0xff00) ^ table[(crc >> 8) ^ (text.charCodeAt(i) & 0xff)]!;
  }
  return crc;
}

/** A check as it stands on the wire: four upper-case hexadecimal digits. */
export function checkDigits(crc: number): string {
  return crc.toString(16).toUpperCase().padStart(4, '0');
}
