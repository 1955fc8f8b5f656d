import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { FieldError, RecordsError } from '../records/errors.ts';
import type { SessionProblem } from '../run/session-types.ts';
import type { Problem } from './messages.ts';
import { type Complaint, sentenceFor } from './words.ts';

/**
 * What the session refuses is a conflict with the state of the bench (RFC 9110, 15.5.10): someone there can mend it, and the request can be sent again.
 * 503 (15.6.4) is left to what the service itself cannot do, which is to reach its records. A port that is none is a bad request.
 */
export function sendRefusal(reply: FastifyReply, problem: SessionProblem): FastifyReply {
  return reply.code(problem.code === 'port' ? 400 : 409).send(problem satisfies Problem);
}

export function sendNotFound(reply: FastifyReply, message: string): FastifyReply {
  return reply.code(404).send({ code: 'not-found', message } satisfies Problem);
}

export function refuseWhileRunning(reply: FastifyReply, act: string): FastifyReply {
  const message = `A run is under way. Let it end, then ${act}.`;
  return reply.code(409).send({ code: 'run-under-way', message } satisfies Problem);
}

/** Sentences for what fastify itself refuses, by its own code. */
const refusals: Record<string, [status: number, problem: Problem]> = {
  FST_ERR_CTP_BODY_TOO_LARGE: [
    413,
    { code: 'too-large', message: 'The request is larger than anything Catchbench has a use for.' },
  ],
  FST_ERR_CTP_INVALID_MEDIA_TYPE: [
    415,
    { code: 'media-type', message: 'Values must come as JSON, with the content type application/json.' },
  ],
  FST_ERR_CTP_EMPTY_JSON_BODY: [
    400,
    { code: 'no-json', message: 'The request says that it carries JSON, but it is empty.' },
  ],
};

const badJson: Problem = {
  code: 'no-json',
  message: 'The request could not be read: it is no JSON. (JSON knows no NaN and no Infinity.)',
};

const tooMany: Problem = {
  code: 'wait',
  message: 'Too many requests came from this device. Wait a minute, then try again.',
};

/** What the records refuse because of what was asked of them, not because of a disk. */
const refusedByRecords: Partial<Record<RecordsError['trouble'], number>> = {
  unknown: 404,
  exists: 409,
  busy: 409,
  'not-ours': 409,
};

function answerFor(error: FastifyError | RecordsError | FieldError): [status: number, problem: Problem] {
  if (error instanceof FieldError) {
    return [400, { code: 'bad-input', message: error.message, field: error.field }];
  }
  if (error instanceof RecordsError && error.trouble in refusedByRecords) {
    return [refusedByRecords[error.trouble]!, { code: error.trouble, message: error.message }];
  }
  if (error instanceof RecordsError) return [503, { code: 'records', message: error.message }];
  if (error.validation !== undefined) {
    return [400, { code: 'bad-input', ...sentenceFor(error.validation as unknown as Complaint[]) }];
  }
  const known = refusals[error.code];
  if (known !== undefined) return known;
  const status = error.statusCode ?? 500;
  if (status === 429) return [429, tooMany];
  if (status === 400) return [400, badJson];
  if (status < 500) return [status, { code: 'bad-request', message: 'The request could not be understood.' }];
  return [
    500,
    {
      code: 'failed',
      message: 'Something went wrong inside Catchbench; it goes on running. What it was is in its window.',
    },
  ];
}

/** The last resort of every route. `report` gets what is a fault of ours. */
export function errorHandler(report: (error: Error) => void) {
  return (error: FastifyError, _request: FastifyRequest, reply: FastifyReply): FastifyReply => {
    const [status, problem] = answerFor(error);
    if (status >= 500) report(error);
    return reply.code(status).send(problem);
  };
}
