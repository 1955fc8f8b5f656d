import { expect, it } from 'vitest';
import { startProgram } from '../http/program.ts';
import { temporaryFolders } from '../records/folders.ts';
import { fuzz, mostFrames } from './http-fuzz.ts';
import { idleProcess, longestAtWork, measured, startMeasuring } from './stalls.ts';

/**
 * The real program, in a process of its own, under requests made from its own description, damaged ones, bare bytes and socket frames.
 * CATCHBENCH_WHOLE=1 sends a million requests and a hundred thousand socket messages, in twenty parts.
 */
const parts = process.env.CATCHBENCH_WHOLE ? 20 : 1;
const [requests, socketMessages] = process.env.CATCHBENCH_WHOLE ? [50_000, 5_000] : [3_000, 300];

const newFolder = temporaryFolders();

it.each(Array.from({ length: parts }, (_, part) => part + 1))(
  'answers, whatever comes: no fault of its own, and it goes on (part %i)',
  { timeout: 900_000 },
  async (part) => {
    const environment = { CATCHBENCH_DATA: newFolder(), CATCHBENCH_LOG: 'warn', ...measured };
    const program = await startProgram(['demo', '--seed', '5', '--lan'], environment);
    const port = Number(new URL(program.address).port);
    const besides = idleProcess();
    startMeasuring(program.child);
    const result = await fuzz({ port, seed: 20261125 + part, requests, socketMessages });
    const { wrong, worstStall, ...counts } = result;
    const idle = await besides.worst();
    expect(wrong).toEqual([]);
    expect(counts.sockets).toBeGreaterThan((0.8 * socketMessages) / mostFrames);
    expect(program.said()).not.toMatch(/fault|failed|unhandled/i);
    const health = await fetch(`${program.address}/api/health`);
    expect(health.status).toBe(200);
    program.child.kill('SIGTERM');
    expect(await program.ended).toBe(0);
    // Measured, not judged: another machine is slower, and this one may be busy.
    const stalls = `${longestAtWork(program.said())} ms at work at a time, ${worstStall.toFixed(0)} ms by the clock`;
    console.log(
      `Part ${part}: ${JSON.stringify(counts)}; ${stalls} (an idle process besides: ${idle.toFixed(0)} ms)`,
    );
  },
);
