import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { type Problem, problem, problemText } from '../../lib/base/index.ts';
import { evaluate, readInspectionFile, type Verdict } from '../../lib/rules/index.ts';
import { bundledTables, parseTable, type Table, tablesNamed } from '../../lib/tolerances/index.ts';
import { EXIT_BAD_INPUT, EXIT_OK } from './exit.ts';

export const assessUsage = `assess FILE.json [--table T.json]… [--json]
  Decides keep, repair, scrap or hold for every part in an inspection file.
  --table   a tolerance table to apply; may be given several times. Without it the tables
            named in the file are applied (bundled: ${bundledTables.map((table) => `"${table.table}"`).join(', ')}).
  --json    print the whole verdict as JSON instead of sentences.`;

class BadInput extends Error {
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super('bad input');
    this.problems = problems;
  }
}

function readJson(path: string, field: string): unknown {
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

function tablesFrom(paths: readonly string[], named: readonly string[]): readonly Table[] {
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
  return paths.map((path) => {
    const parsed = parseTable(readJson(path, '--table'));
    if (!parsed.ok)
      throw new BadInput(parsed.error.map((one) => ({ ...one, field: `${path}: ${one.field}` })));
    return parsed.value;
  });
}

function printed(verdict: Verdict): string {
  const lines: string[] = [];
  for (const part of verdict.parts) {
    lines.push(
      `${part.result.toUpperCase().padEnd(7)} ${part.sentence}${part.demonstration ? ' [rests on demonstration limits]' : ''}`,
    );
    for (const finding of part.findings) lines.push(`    ${finding.class.padEnd(7)} ${finding.sentence}`);
    for (const missing of part.missing) lines.push(`    missing ${missing.text}`);
  }
  lines.push(
    verdict.assembly.fit ? 'FIT     The set may go together.' : 'NOT FIT The set may not go together:',
  );
  for (const reason of verdict.assembly.reasons) lines.push(`    ${reason}`);
  lines.push(
    '',
    `Tables: ${verdict.tables.length === 0 ? 'none' : verdict.tables.map((table) => `${table.title} (${table.edition})`).join('; ')}.`,
    'The decision belongs to a competent person under local codes and the maker’s manual.',
  );
  return lines.join('\n');
}

/** The `assess` command: 0 with an answer, 2 with every problem of the input on standard error. */
export function assess(args: string[]): number {
  try {
    const { values, positionals } = parseOptions(args);
    const [path] = positionals;
    if (path === undefined || positionals.length > 1) {
      throw new BadInput([
        problem(
          'arguments',
          'FILE.json',
          positionals.join(' '),
          'assess takes one inspection file',
          'Run: npm run -s rimbook -- assess FILE.json',
        ),
      ]);
    }
    const file = readInspectionFile(readJson(path, 'FILE.json'));
    if (!file.ok) throw new BadInput(file.error);
    const verdict = evaluate(file.value.evidence, tablesFrom(values.table ?? [], file.value.tables));
    console.log(values.json ? JSON.stringify(verdict, null, 2) : printed(verdict));
    return EXIT_OK;
  } catch (error) {
    if (!(error instanceof BadInput)) throw error;
    for (const one of error.problems) console.error(problemText(one));
    return EXIT_BAD_INPUT;
  }
}

function parseOptions(args: string[]) {
  try {
    return parseArgs({
      args,
      allowPositionals: true,
      options: { table: { type: 'string', multiple: true }, json: { type: 'boolean' } },
    });
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new BadInput([
      problem('arguments', 'options', args.join(' '), why, 'Run: npm run -s rimbook -- help'),
    ]);
  }
}
