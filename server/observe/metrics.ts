import type { FastifyInstance } from 'fastify';
import { Counter, collectDefaultMetrics, Gauge, Registry } from 'prom-client';
import type { LinkFigures } from '../link/figures.ts';
import type { SessionFace } from '../run/session-types.ts';
import type { Seen } from './watch.ts';

export interface MetricSources {
  session: SessionFace;
  version: string;
  viewers: () => number;
  linkFigures: () => LinkFigures;
  seen: Seen;
  /** Runs that are in memory alone. */
  unsaved: () => number;
}

/** Everything is read when it is asked for: as long as nobody asks, the metrics cost nothing. */
function registryFor(sources: MetricSources): Registry {
  const { session, version } = sources;
  const registry = new Registry();
  const registers = [registry];
  collectDefaultMetrics({ register: registry });

  const gauge = (name: string, help: string, read: () => number): void => {
    new Gauge({
      name,
      help,
      registers,
      collect() {
        this.set(read());
      },
    });
  };
  const counter = (name: string, help: string, read: () => number): void => {
    new Counter({
      name,
      help,
      registers,
      collect() {
        this.reset();
        this.inc(read());
      },
    });
  };
  const counters = (name: string, help: string, label: string, read: () => Record<string, number>): void => {
    new Counter({
      name,
      help,
      labelNames: [label],
      registers,
      collect() {
        this.reset();
        for (const [value, count] of Object.entries(read())) this.inc({ [label]: value }, count);
      },
    });
  };

  new Gauge({
    name: 'catchbench_info',
    help: 'Version of Catchbench',
    labelNames: ['version'],
    registers,
  }).set({ version }, 1);
  gauge('catchbench_stand_connected', '1 while the stand answers', () =>
    Number(session.view().link.condition === 'connected'),
  );
  gauge('catchbench_wheel_turning', '1 while a run turns the wheel', () =>
    Number(session.view().run.figures.phase === 'turning'),
  );
  gauge('catchbench_pages', 'Pages that look on', sources.viewers);
  gauge('catchbench_runs_unsaved', 'Runs that are in memory alone', sources.unsaved);
  gauge('catchbench_troubles', 'Sentences of trouble in the health answer', () => session.troubles().length);
  counter('catchbench_lines_total', 'Lines taken from the stand', () => sources.linkFigures().lines);
  counter(
    'catchbench_lines_missed_total',
    'Lines that the stand sent and that never came or were not believed',
    () => sources.linkFigures().missed,
  );
  counters(
    'catchbench_lines_refused_total',
    'Lines not believed',
    'reason',
    () => sources.linkFigures().refused,
  );
  counter(
    'catchbench_port_opened_total',
    'Times that a port was opened',
    () => sources.linkFigures().connections,
  );
  counter('catchbench_board_resets_total', 'Resets of the board seen', () => sources.linkFigures().boots);
  counter('catchbench_runs_begun_total', 'Runs begun', () => sources.seen.runsBegun);
  counters('catchbench_runs_ended_total', 'Runs ended', 'outcome', () => ({ ...sources.seen.runsEnded }));
  return registry;
}

/** The figures of the service in the text format that Prometheus reads, at /metrics. */
export function addMetricsRoute(app: FastifyInstance, sources: MetricSources): void {
  let registry: Registry | null = null;
  app.get(
    '/metrics',
    { schema: { summary: 'Figures of the service, for Prometheus' } },
    async (_request, reply) => {
      registry ??= registryFor(sources);
      reply.type(registry.contentType);
      return registry.metrics();
    },
  );
}
