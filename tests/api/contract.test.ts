import { readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { contract } from '../../app/_server/contract/index.ts';
import { API_FOLDER, routeFile, send, withServer } from './support.ts';

withServer();

const METHODS = ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS'];

async function exportedMethods(): Promise<string[]> {
  const files = readdirSync(API_FOLDER, { recursive: true, encoding: 'utf8' }).filter((file) =>
    file.endsWith('route.ts'),
  );
  const found: string[] = [];
  for (const file of files) {
    const route = (await import(join(API_FOLDER, file))) as Record<string, unknown>;
    for (const name of Object.keys(route)) {
      expect([file, METHODS.includes(name)]).toEqual([file, true]);
      found.push(`${name} ${file}`);
    }
  }
  return found.sort();
}

describe('the contract', () => {
  it('names every exported method of every route file, and nothing else', async () => {
    const described = contract
      .map((operation) => `${operation.method} ${relative(API_FOLDER, routeFile(operation.path))}`)
      .sort();
    expect(described).toEqual(await exportedMethods());
  });

  it('gives each operation an id of its own', () => {
    expect(new Set(contract.map((operation) => operation.id)).size).toBe(contract.length);
  });

  it('is published as OpenAPI 3.1 with every operation, its parameters and its problems', async () => {
    const response = await send('GET', '/api/v1/openapi.json');
    expect(response.status).toBe(200);
    const document = (await response.json()) as {
      openapi: string;
      paths: Record<
        string,
        Record<string, { operationId: string; parameters: Array<{ name: string; in: string }> }>
      >;
    };
    expect(document.openapi).toBe('3.1.0');
    const ids = Object.values(document.paths).flatMap((path) =>
      Object.values(path).map((one) => one.operationId),
    );
    expect(ids.sort()).toEqual(contract.map((operation) => operation.id).sort());
    for (const [path, methods] of Object.entries(document.paths)) {
      const names = [...path.matchAll(/\{(\w+)\}/g)].map((match) => match[1]);
      for (const operation of Object.values(methods)) {
        const described = operation.parameters.filter((one) => one.in === 'path').map((one) => one.name);
        expect(described).toEqual(names);
      }
    }
    expect(document.paths['/api/v1/entries']?.get?.parameters.map((one) => one.name)).toEqual([
      'site',
      'after',
      'limit',
      'subjects',
    ]);
  });
});
