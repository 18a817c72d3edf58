import { counted } from '../../lib/base/index.ts';
import { lookThrough } from '../../lib/rules/index.ts';
import { EXIT_BAD_INPUT, EXIT_OK } from './exit.ts';
import { oneFile, readOptions, readTable, withInput } from './input.ts';

export const lintTableUsage = `lint-table TABLE [--json]
  Looks through a tolerance table (JSON or CSV) for rows that reach nothing, overlap, contradict or hide each other, for gaps
  between sizes, mixed units, sources that cannot be found again, and worse readings with a milder verdict.
  Exit code 2 when there is an error; warnings alone give 0.`;

/** The `lint-table` command: 0 without errors, 2 with them or with a table that cannot be read. */
export function lintTableCommand(args: string[]): number {
  return withInput(() => {
    const { values, positionals } = readOptions(args, { json: { type: 'boolean' } });
    const { table, placeOf } = readTable(oneFile('lint-table', positionals), 'TABLE');
    const found = lookThrough(table).map((one) => ({
      ...one,
      place: placeOf(one.field),
    }));
    if (values.json) console.log(JSON.stringify(found, null, 2));
    else {
      for (const { severity, lint, place, rows, message, wayOut } of found) {
        console.log(`${severity.padEnd(7)} ${lint}: ${place} (${rows.join(', ')}): ${message}. ${wayOut}`);
      }
      const errors = found.filter((one) => one.severity === 'error').length;
      console.log(
        `${counted(table.rows.length, 'row')}, ${counted(errors, 'error')}, ${counted(found.length - errors, 'warning')}.`,
      );
    }
    return found.some((one) => one.severity === 'error') ? EXIT_BAD_INPUT : EXIT_OK;
  });
}
