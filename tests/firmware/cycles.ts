/**
 * Worst-case cycle counts read off the program itself: the longest way through its instructions, with the cycles that the
 * ATmega328P datasheet gives for each (section 'Instruction Set Summary'; figures from memory).
 */

export interface Instruction {
  address: number;
  /** Address of the next instruction in memory. */
  next: number;
  mnemonic: string;
  operands: string;
}

export type Program = Map<number, Instruction>;

const oneCycle =
  'add adc sub sbc subi sbci and andi or ori eor com neg inc dec tst clr ser ldi mov movw cp cpc cpi in out bst bld nop swap lsl lsr rol ror asr cli sei sec clc set clt wdr sleep';
const twoCycles = 'adiw sbiw mul muls mulsu lds sts ld st ldd std push pop sbi cbi rjmp ijmp';
const threeCycles = 'jmp lpm rcall icall';
const fourCycles = 'call ret reti';

const plainCycles = new Map<string, number>();
for (const [count, names] of [oneCycle, twoCycles, threeCycles, fourCycles].entries())
  for (const name of names.split(' ')) plainCycles.set(name, count + 1);

const skips = new Set(['cpse', 'sbrs', 'sbrc', 'sbis', 'sbic']);

/** What may still run before a waiting interrupt is taken: the longest is SBI on EERE, which halts the chip for four cycles more. */
export const LONGEST_INSTRUCTION = 6;
/** From the end of an instruction to the first one at the vector. */
export const INTERRUPT_RESPONSE = 4;

/** Reads what `avr-objdump -D -m avr5 -b ihex` prints. */
export function readListing(listing: string): Program {
  const program: Program = new Map();
  for (const line of listing.split('\n')) {
    const match = /^\s*([0-9a-f]+):\t((?:[0-9a-f]{2} )+)\s*\t([a-z]+)\t?([^;]*)/.exec(line);
    if (!match) continue;
    const address = Number.parseInt(match[1]!, 16);
    const bytes = match[2]!.trim().split(' ').length;
    program.set(address, { address, next: address + bytes, mnemonic: match[3]!, operands: match[4]!.trim() });
  }
  return program;
}

function at(program: Program, address: number): Instruction {
  const instruction = program.get(address);
  if (!instruction) throw new Error(`no instruction at 0x${address.toString(16)}`);
  return instruction;
}

function relativeTarget(instruction: Instruction): number {
  const match = /\.([+-]\d+)/.exec(instruction.operands);
  if (!match) throw new Error(`no target: ${instruction.mnemonic} ${instruction.operands}`);
  return instruction.address + 2 + Number(match[1]);
}

interface Way {
  to: number;
  cycles: number;
}

/** Where an instruction may lead, and in how many cycles; a call leads to the instruction after it. */
function ways(program: Program, instruction: Instruction): Way[] {
  const { mnemonic, next } = instruction;
  if (skips.has(mnemonic)) {
    const skipped = at(program, next);
    return [
      { to: next, cycles: 1 },
      { to: skipped.next, cycles: skipped.next - next === 4 ? 3 : 2 },
    ];
  }
  if (mnemonic.startsWith('br') && mnemonic !== 'break')
    return [
      { to: next, cycles: 1 },
      { to: relativeTarget(instruction), cycles: 2 },
    ];
  const cycles = plainCycles.get(mnemonic);
  if (cycles === undefined) throw new Error(`unknown instruction ${mnemonic}`);
  if (mnemonic === 'rjmp') return [{ to: relativeTarget(instruction), cycles }];
  if (mnemonic === 'jmp') return [{ to: Number.parseInt(instruction.operands, 16), cycles }];
  return [{ to: next, cycles }];
}

/**
 * Cycles of the longest way from `start` to an instruction for which `isEnd` holds, that one included. Minus infinity when no way
 * leads there. Throws on a loop or a call, which such a short piece must not have.
 */
export function longestWay(program: Program, start: number, isEnd: (i: Instruction) => boolean): number {
  const known = new Map<number, number>();
  const onWay = new Set<number>();
  const walk = (address: number): number => {
    const before = known.get(address);
    if (before !== undefined) return before;
    if (onWay.has(address)) throw new Error(`loop at 0x${address.toString(16)}`);
    const instruction = at(program, address);
    if (/call/.test(instruction.mnemonic)) throw new Error(`call at 0x${address.toString(16)}`);
    onWay.add(address);
    let longest = Number.NEGATIVE_INFINITY;
    if (isEnd(instruction)) longest = Math.max(...ways(program, instruction).map((way) => way.cycles));
    else if (instruction.mnemonic !== 'reti')
      for (const way of ways(program, instruction)) longest = Math.max(longest, way.cycles + walk(way.to));
    onWay.delete(address);
    known.set(address, longest);
    return longest;
  };
  return walk(start);
}

/** Address of the routine that vector `number` jumps to. */
export function vectorTarget(program: Program, number: number): number {
  return ways(program, at(program, 4 * number))[0]!.to;
}

/** Interrupt `number` from its request being seen to the instruction after its `reti`. */
export function interruptCycles(program: Program, number: number): number {
  const jump = ways(program, at(program, 4 * number))[0]!.cycles;
  const body = longestWay(program, vectorTarget(program, number), (i) => i.mnemonic === 'reti');
  return INTERRUPT_RESPONSE + jump + body;
}

/** Writes SREG, as a lock does when it gives back what was. */
const restores = (i: Instruction) =>
  i.mnemonic === 'sei' || (i.mnemonic === 'out' && i.operands.startsWith('0x3f'));

/** The run-time library's end after `main`, which never returns: interrupts off and a jump to itself. */
function isFinalStop(program: Program, cli: Instruction): boolean {
  const after = at(program, cli.next);
  return after.mnemonic === 'rjmp' && relativeTarget(after) === after.address;
}

/** Every stretch with interrupts off outside the interrupts: address of its `cli` and cycles to the end of its lock. */
export function lockedStretches(program: Program): { address: number; cycles: number }[] {
  return [...program.values()]
    .filter((i) => i.mnemonic === 'cli' && !isFinalStop(program, i))
    .map((i) => ({ address: i.address, cycles: longestWay(program, i.address, restores) }));
}
