import { CertificateError } from './access/certificate.ts';
import { openBrowser } from './browser.ts';
import { importTable } from './calibration/import-table.ts';
import { systemClock } from './clock.ts';
import { type Command, readCommand, UsageError, usage } from './command-line.ts';
import { startDemo } from './demo.ts';
import { firstPlan } from './first-plan.ts';
import { driverPort } from './link/port-factory.ts';
import { listPorts } from './link/ports.ts';
import { supportCommand } from './observe/support.ts';
import { findProject } from './project.ts';
import { recordsCommand } from './records/command.ts';
import { RecordsError } from './records/errors.ts';
import { dataFolder } from './records/folder.ts';
import { type Service, StartError, startService } from './service.ts';

const say = (sentence: string): void => console.error(sentence);

// Whoever read the terminal has gone; the service goes on for those at the page.
for (const stream of [process.stdout, process.stderr]) stream.on('error', () => {});

function start(command: Exclude<Command, { command: 'help' }>): Promise<Service> {
  const folder = dataFolder();
  const { port, reaching } = command;
  if (command.command === 'demo') return startDemo({ ...command, folder, say });
  return startService({
    clock: systemClock,
    link: { createPort: driverPort, listPorts, path: command.path },
    folder,
    demo: false,
    plan: firstPlan,
    port,
    reaching,
    share: process.env.CATCHBENCH_SHARE || null,
    say,
  });
}

/** Closes in order at the first signal, at once at the second. A fault that nobody caught stops the wheel and ends the program. */
function closeOnSignals(service: Service): void {
  let closing = false;
  const close = (exitCode: number): void => {
    if (closing) process.exit(exitCode);
    closing = true;
    service.close().then(
      () => process.exit(exitCode),
      (error: Error) => {
        say(`Catchbench did not close in order: ${error.message}`);
        process.exit(1);
      },
    );
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => close(0));
  process.on('uncaughtException', (error) => {
    say(`Catchbench has failed and ends, the wheel is being stopped: ${error.stack ?? error.message}`);
    close(1);
  });
}

async function main(): Promise<void> {
  if (process.argv[2] === 'records') {
    process.exitCode = await recordsCommand(
      process.argv.slice(3),
      dataFolder(),
      console.log,
      say,
      importTable,
    );
    return;
  }
  if (process.argv[2] === 'support') {
    const { version } = findProject();
    const around = {
      folder: dataFolder(),
      version,
      environment: process.env,
      print: console.log,
      complain: say,
    };
    process.exitCode = await supportCommand(process.argv.slice(3), around);
    return;
  }
  const command = readCommand(process.argv.slice(2), process.env);
  if (command.command === 'help') {
    console.log(usage);
    return;
  }
  const service = await start(command);
  closeOnSignals(service);
  const isDemo = command.command === 'demo';
  console.log(`Catchbench is at ${service.address} (Ctrl-C ends it).`);
  if (isDemo) {
    console.log(`Demo with an emulated stand, seed ${command.seed}.`);
    openBrowser(service.address);
  }
}

main().catch((error: Error) => {
  const expected =
    error instanceof StartError ||
    error instanceof RecordsError ||
    error instanceof UsageError ||
    error instanceof CertificateError;
  say(expected ? error.message : (error.stack ?? error.message));
  if (error instanceof UsageError) say(`\n${usage}`);
  process.exit(1);
});
