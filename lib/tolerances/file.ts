import { errorText, fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type PlacedTable, tableFromCsv } from './csv.ts';
import { parseTable } from './parse.ts';

/** A table read from a file, and the form it had there. */
export interface TableFile extends PlacedTable {
  readonly form: 'json' | 'csv';
}

/**
 * Reads a table from the text of a file, JSON when it begins as JSON does, CSV otherwise; `name` is the file's name and
 * stands before the field of every problem. Fails with all problems of the table (see `parseTable`, `tableFromCsv`).
 */
export function readTableFile(name: string, text: string): Result<TableFile, readonly Problem[]> {
  const read = /^\uFEFF?\s*[[{]/.test(text) ? fromJson(text) : fromCsv(text);
  if (read.ok) return read;
  return fail(
    read.error.map((one) => ({ ...one, field: one.field === '' ? name : `${name}: ${one.field}` })),
  );
}

function fromCsv(text: string): Result<TableFile, readonly Problem[]> {
  const read = tableFromCsv(text);
  return read.ok ? ok({ form: 'csv', ...read.value }) : read;
}

function fromJson(text: string): Result<TableFile, readonly Problem[]> {
  const candidate = jsonIn(text.replace(/^\uFEFF/, ''));
  if (!candidate.ok) return candidate;
  const parsed = parseTable(candidate.value);
  return parsed.ok ? ok({ form: 'json', table: parsed.value, placeOf: (field) => field }) : parsed;
}

function jsonIn(text: string): Result<unknown, readonly Problem[]> {
  try {
    return ok(JSON.parse(text));
  } catch (error) {
    const why = errorText(error);
    return fail([
      problem(
        'table-not-json',
        '',
        text.trim(),
        `The file begins as JSON does, but is not JSON: ${why}`,
        'Correct the file at the place named.',
      ),
    ]);
  }
}
