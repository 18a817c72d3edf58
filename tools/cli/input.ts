import { readFileSync } from 'node:fs';
import { type ParseArgsConfig, parseArgs } from 'node:util';
import { type Problem, problem, problemText } from '../../lib/base/index.ts';
import { bundledTables, parseTable, type Table, tablesNamed } from '../../lib/tolerances/index.ts';
import { EXIT_BAD_INPUT } from './exit.ts';

/** Input that cannot be used, with every problem of it. */
export class BadInput extends Error {
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super('bad input');
    this.problems = problems;
  }
}

/** A JSON file; `field` names the argument in a problem. */
export function readJson(path: string, field: string): unknown {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new BadInput([
      problem(
        'file-unreadable',
        field,
        path,
        `The file cannot be read: ${why}`,
        'Give the path of a readable file.',
      ),
    ]);
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
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

/** A table file, checked. Throws BadInput with every problem of it. */
export function readTable(path: string, field: string): Table {
  const parsed = parseTable(readJson(path, field));
  if (!parsed.ok) throw new BadInput(parsed.error.map((one) => ({ ...one, field: `${path}: ${one.field}` })));
  return parsed.value;
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
  return paths.map((path) => readTable(path, '--table'));
}

/** Options and arguments of a command; a wrong one is bad input. */
export function readOptions<O extends NonNullable<ParseArgsConfig['options']>>(args: string[], options: O) {
  try {
    return parseArgs({ args, allowPositionals: true, options });
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new BadInput([
      problem('arguments', 'options', args.join(' '), why, 'Run: npm run -s rimbook -- help'),
    ]);
  }
}

/** The one file a command takes. */
export function oneFile(command: string, positionals: readonly string[]): string {
  const [path] = positionals;
  if (path !== undefined && positionals.length === 1) return path;
  throw new BadInput([
    problem(
      'arguments',
      'FILE.json',
      positionals.join(' '),
      `${command} takes one file`,
      `Run: npm run -s rimbook -- ${command} FILE.json`,
    ),
  ]);
}

/** Runs a command; bad input is printed on standard error, every problem of it. */
export function withInput(command: () => number): number {
  try {
    return command();
  } catch (error) {
    if (!(error instanceof BadInput)) throw error;
    for (const one of error.problems) console.error(problemText(one));
    return EXIT_BAD_INPUT;
  }
}
