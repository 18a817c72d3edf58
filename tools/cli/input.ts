import { readFileSync } from 'node:fs';
import { type ParseArgsConfig, parseArgs } from 'node:util';
import { errorText, type Problem, problem, problemText } from '../../lib/base/index.ts';
import {
  bundledTables,
  readTableFile,
  type Table,
  type TableFile,
  tablesNamed,
} from '../../lib/tolerances/index.ts';
import type { UnitPreference } from '../../lib/units/index.ts';
import { EXIT_BAD_INPUT } from './exit.ts';

/** Input that cannot be used, with every problem of it. */
export class BadInput extends Error {
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super('bad input');
    this.problems = problems;
  }
}

function unreadable(path: string, field: string, message: string, error: unknown, wayOut: string): BadInput {
  const why = errorText(error);
  return new BadInput([problem('file-unreadable', field, path, `${message}: ${why}`, wayOut)]);
}

/** The text of a file in UTF-8; `field` names the argument in a problem. */
function readText(path: string, field: string): string {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(path);
  } catch (error) {
    throw unreadable(path, field, 'The file cannot be read', error, 'Give the path of a readable file.');
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    throw unreadable(
      path,
      field,
      'The file is not text in UTF-8',
      error,
      'Save it as UTF-8 text and try again.',
    );
  }
}

/** A JSON file; `field` names the argument in a problem. */
export function readJson(path: string, field: string): unknown {
  const text = readText(path, field);
  try {
    return JSON.parse(text);
  } catch (error) {
    const why = errorText(error);
    throw new BadInput([
      problem(
        'file-not-json',
        field,
        path,
        `The file is not JSON: ${why}`,
        'Correct the file at the place named.',
      ),
    ]);
  }
}

/** A table file, JSON or CSV, checked. Throws BadInput with every problem of it. */
export function readTable(path: string, field: string): TableFile {
  const read = readTableFile(path, readText(path, field));
  if (!read.ok) throw new BadInput(read.error);
  return read.value;
}

/** The tables in the files, or without files the bundled ones named. */
export function tablesFrom(paths: readonly string[], named: readonly string[]): readonly Table[] {
  if (paths.length === 0) {
    const { tables, unknown } = tablesNamed(named);
    if (unknown.length > 0) {
      const known = bundledTables.map((table) => `"${table.table}"`).join(', ');
      throw new BadInput(
        unknown.map((id) =>
          problem(
            'table-unknown',
            'tables',
            id,
            'No bundled table has this id',
            `Use one of ${known}, or give a file with --table.`,
          ),
        ),
      );
    }
    return tables;
  }
  return paths.map((path) => readTable(path, '--table').table);
}

/** Options and arguments of a command; a wrong one is bad input. */
export function readOptions<O extends NonNullable<ParseArgsConfig['options']>>(args: string[], options: O) {
  try {
    return parseArgs({ args, allowPositionals: true, options });
  } catch (error) {
    const why = errorText(error);
    throw new BadInput([
      problem('arguments', 'options', args.join(' '), why, 'Run: npm run -s rimbook -- help'),
    ]);
  }
}

/** Units of sentences from `--units`; metric when it is left out. */
export function unitsFrom(text = 'metric'): UnitPreference {
  if (text === 'metric' || text === 'imperial') return text;
  throw new BadInput([
    problem('arguments', '--units', text, 'No such units', 'Give --units metric or --units imperial.'),
  ]);
}

/** The one file a command takes. */
export function oneFile(command: string, positionals: readonly string[]): string {
  const [path] = positionals;
  if (path !== undefined && positionals.length === 1) return path;
  throw new BadInput([
    problem(
      'arguments',
      'FILE',
      positionals.join(' '),
      `${command} takes one file`,
      `Run: npm run -s rimbook -- ${command} FILE`,
    ),
  ]);
}

/** Prints bad input on standard error, every problem of it; other errors are faults of the program. */
function refused(error: unknown): number {
  if (!(error instanceof BadInput)) throw error;
  for (const one of error.problems) console.error(problemText(one));
  return EXIT_BAD_INPUT;
}

/** Runs a command; bad input is printed on standard error. */
export function withInput(command: () => number): number {
  try {
    return command();
  } catch (error) {
    return refused(error);
  }
}

/** The same for a command that waits for something. */
export async function withInputLater(command: () => Promise<number>): Promise<number> {
  try {
    return await command();
  } catch (error) {
    return refused(error);
  }
}
