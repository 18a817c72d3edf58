import { problem } from '../../lib/base/index.ts';
import { type Table, type TableFile, tableToCsv } from '../../lib/tolerances/index.ts';
import { EXIT_OK } from './exit.ts';
import { BadInput, oneFile, readOptions, readTable, withInput } from './input.ts';

export const convertTableUsage = `convert-table FILE [--to csv|json]
  Prints a tolerance table in the other form, CSV for JSON and JSON for CSV, or in the form asked for.`;

type Form = TableFile['form'];

const WRITERS: Readonly<Record<Form, (table: Table) => string>> = {
  csv: tableToCsv,
  json: (table) => `${JSON.stringify(table, null, 2)}\n`,
};

function formAsked(to: string | undefined): Form | undefined {
  if (to === undefined || to === 'csv' || to === 'json') return to;
  throw new BadInput([
    problem('arguments', '--to', to, 'A table is not written in this form', 'Use --to csv or --to json.'),
  ]);
}

/** The `convert-table` command: 0 with the table on standard output, 2 with every problem of the file. */
export function convertTable(args: string[]): number {
  return withInput(() => {
    const { values, positionals } = readOptions(args, { to: { type: 'string' } });
    const asked = formAsked(values.to);
    const { table, form } = readTable(oneFile('convert-table', positionals), 'FILE');
    process.stdout.write(WRITERS[asked ?? (form === 'json' ? 'csv' : 'json')](table));
    return EXIT_OK;
  });
}
