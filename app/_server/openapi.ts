import { z } from 'zod';
import { EntryEnvelope } from '../../lib/record/index.ts';
import { contract } from './contract/index.ts';
import type { Operation } from './contract/operation.ts';
import { ProblemDocument } from './contract/shapes.ts';

type Json = Record<string, unknown>;

function schemaOf(type: z.ZodType, io: 'input' | 'output'): Json {
  const { $schema: _, ...schema } = z.toJSONSchema(type, { io, unrepresentable: 'any' }) as Json;
  return schema;
}

function parametersOf(type: z.ZodType, place: 'path' | 'query'): Json[] {
  const schema = schemaOf(type, 'input') as {
    properties?: Record<string, Json>;
    required?: string[];
  };
  return Object.entries(schema.properties ?? {}).map(([name, property]) => ({
    name,
    in: place,
    required: place === 'path' || (schema.required ?? []).includes(name),
    schema: property,
  }));
}

function headersOf(operation: Operation): Json[] {
  return Object.entries(operation.headers ?? {}).map(([name, description]) => ({
    name,
    in: 'header',
    required: name !== 'Upload-Name',
    description,
    schema: { type: 'string' },
  }));
}

function bodyOf(operation: Operation): Json {
  if (operation.bodyKind === 'none') return {};
  const content =
    operation.bodyKind === 'bytes'
      ? { 'application/octet-stream': { schema: {} } }
      : { 'application/json': { schema: schemaOf(operation.body, 'input') } };
  return { requestBody: { required: true, content } };
}

const TITLES: Readonly<Record<number, string>> = {
  400: 'A parameter, header or field is wrong',
  401: 'Nobody is signed in',
  403: 'Not allowed, or the request comes from another origin',
  404: 'Not there, or not for the caller: both read the same',
  409: 'In conflict with what is stored',
  413: 'The body is too large',
  415: 'The body has another type than described',
  422: 'Understood and refused',
  429: 'Too many at once',
  500: 'The server cannot serve; the sentence says what to do',
  503: 'Not now; the same request may succeed later',
};

function problemStatuses(operation: Operation): number[] {
  const statuses = new Set([400, 500, ...operation.problems]);
  if (operation.access !== 'anyone') statuses.add(401);
  if (operation.access === 'administrator') statuses.add(403);
  if (operation.bodyKind !== 'none') for (const status of [403, 413, 415]) statuses.add(status);
  return [...statuses].sort((a, b) => a - b);
}

function responsesOf(operation: Operation): Json {
  const responses: Json = {};
  for (const { status, type, what } of operation.success) {
    const schema = type === 'application/json' ? schemaOf(operation.answer, 'output') : {};
    responses[status] = {
      description: what,
      ...(type === 'none' ? {} : { content: { [type]: { schema } } }),
    };
  }
  for (const status of problemStatuses(operation)) {
    responses[status] = {
      description: TITLES[status] ?? 'Problem',
      content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
    };
  }
  return responses;
}

/** The description of the interface in OpenAPI 3.1, made from the schemas that check it. */
export function openApiDocument(): Json {
  const paths: Record<string, Json> = {};
  for (const operation of contract) {
    paths[operation.path] = {
      ...paths[operation.path],
      [operation.method.toLowerCase()]: {
        operationId: operation.id,
        summary: operation.summary,
        security: operation.access === 'anyone' ? [] : [{ session: [] }],
        parameters: [
          ...parametersOf(operation.params, 'path'),
          ...parametersOf(operation.query, 'query'),
          ...headersOf(operation),
        ],
        ...bodyOf(operation),
        responses: responsesOf(operation),
      },
    };
  }
  return {
    openapi: '3.1.0',
    info: { title: 'Rimbook', version: '1' },
    paths,
    components: {
      schemas: {
        Problem: schemaOf(ProblemDocument, 'output'),
        EntryEnvelope: schemaOf(EntryEnvelope, 'input'),
      },
      securitySchemes: {
        session: { type: 'apiKey', in: 'cookie', name: 'rimbook.session_token' },
      },
    },
  };
}
