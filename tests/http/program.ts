import { type ChildProcess, spawn } from 'node:child_process';
import { type AddressInfo, createServer } from 'node:net';
import { findProject } from '../../server/project.ts';

export interface Program {
  address: string;
  child: ChildProcess;
  /** All that it has said so far. */
  said: () => string;
  /** Resolves with the exit code, or the signal that ended it. */
  ended: Promise<number | string>;
}

const program = `${findProject().folder}/server/dist/main.js`;

function launch(args: string[], environment: NodeJS.ProcessEnv): Omit<Program, 'address'> {
  const child = spawn(process.execPath, [program, ...args], {
    env: { ...process.env, PORT: '0', CATCHBENCH_NO_OPEN: '1', ...environment },
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (text) => (said += text));
  const ended = new Promise<number | string>((resolve) => {
    child.once('close', (code, signal) => resolve(code ?? signal ?? -1));
  });
  return { child, said: () => said, ended };
}

/** Gets the stand ready without the list before a run, which a program has no use for; whether it is. */
export async function getReady(address: string): Promise<boolean> {
  const headers = { 'content-type': 'application/json' };
  const body = JSON.stringify({ list: 'passed-over' });
  return (await fetch(`${address}/api/run/arm`, { method: 'POST', headers, body })).ok;
}

/** Starts the built program with its output going nowhere: the reading ends are closed at once. */
export function startDeaf(args: string[], environment: NodeJS.ProcessEnv): ChildProcess {
  const { child } = launch(args, environment);
  child.stdout?.destroy();
  child.stderr?.destroy();
  return child;
}

/** A port that nobody listens on just now. */
export function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => resolve(port));
    });
  });
}

/** Runs the built program to its end. */
export async function runProgram(args: string[], environment: NodeJS.ProcessEnv = {}) {
  const { ended, said } = launch(args, environment);
  return { code: await ended, said: said() };
}

/** Starts the built program and waits until it tells its address. */
export async function startProgram(args: string[], environment: NodeJS.ProcessEnv): Promise<Program> {
  const launched = launch(args, environment);
  let over = false;
  void launched.ended.then(() => (over = true));
  for (;;) {
    const address = /https?:\/\/localhost:\d+/.exec(launched.said())?.[0];
    if (address !== undefined) return { ...launched, address };
    if (over) throw new Error(`It ended without an address: ${launched.said()}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
