/** A few AVR instructions as words (AVR Instruction Set Manual, Microchip DS40002198), for programs of a dozen lines. */
import { flashBytes } from '../../firmware-sim/board/intel-hex.ts';

const ioBase = 0x20;

/** `rd` is 16 to 31. */
export const ldi = (rd: number, value: number) => [
  0xe000 | ((value & 0xf0) << 4) | ((rd - 16) << 4) | (value & 0x0f),
];
export const sts = (address: number, rr: number) => [0x9200 | (rr << 4), address];
export const lds = (rd: number, address: number) => [0x9000 | (rd << 4), address];
/** `address` as in the data memory, 0x20 to 0x3f. */
export const sbi = (address: number, bit: number) => [0x9a00 | ((address - ioBase) << 3) | bit];
export const cbi = (address: number, bit: number) => [0x9800 | ((address - ioBase) << 3) | bit];
export const inc = (rd: number) => [0x9403 | (rd << 4)];
/** `words` from the instruction that follows. */
export const rjmp = (words: number) => [0xc000 | (words & 0xfff)];
export const sei = () => [0x9478];
export const cli = () => [0x94f8];
export const reti = () => [0x9518];
export const sleep = () => [0x9588];
export const wdr = () => [0x95a8];
export const nop = () => [0x0000];
/** Sets a register in data memory through r16. */
export const put = (address: number, value: number) => [...ldi(16, value), ...sts(address, 16)];
/** Stays here. */
export const stay = () => rjmp(-1);

/** Flash with instructions at word addresses: `{ 0: [...reset...], 2: [...INT0...] }`. */
export function flashOf(parts: Record<number, number[][]>): Uint8Array {
  const flash = new Uint8Array(flashBytes).fill(0xff);
  const view = new DataView(flash.buffer);
  for (const [address, instructions] of Object.entries(parts)) {
    for (const [index, word] of instructions.flat().entries()) {
      view.setUint16(2 * (Number(address) + index), word, true);
    }
  }
  return flash;
}
