import Papa from 'papaparse';
import { fail, must, ok, type Problem, problem, type Result } from '../base/index.ts';
import { COLUMNS, type Column } from './csvColumns.ts';

/** A line of the file that is not blank. Lines count as rows of a spreadsheet do: a break within quotes begins none. */
export interface CsvLine {
  readonly number: number;
  readonly cells: readonly string[];
}

const DELIMITERS = [',', ';', '\t'] as const;
const BYTE_ORDER_MARK = /^\uFEFF/;

/** Column names hold none of the delimiters, so the first line with something in it tells which one is used. */
function delimiterOf(text: string): string {
  const [firstLine] = must(/.*/.exec(text.trimStart()), text);
  const count = (delimiter: string) => firstLine.split(delimiter).length;
  return DELIMITERS.reduce<string>((best, one) => (count(one) > count(best) ? one : best), ',');
}

/** Only a first line that ends in a carriage return alone makes that the end of every line. */
function lineEndOf(text: string): '\r' | '\n' {
  const end = /\r\n|\r|\n/.exec(text)?.[0];
  return end === '\r' ? end : '\n';
}

/** Where a line ends in CR LF, the CR is left on its last cell. */
function withoutCarriageReturn(cells: readonly string[]): string[] {
  return cells.map((cell, index) => (index === cells.length - 1 ? cell.replace(/\r$/, '') : cell));
}

/** One problem for each line with a fault of quoting, the first that the parser met there. */
function quotingProblems(errors: readonly Papa.ParseError[]): Problem[] {
  const first = errors.filter(({ row }, index) => errors.findIndex((one) => one.row === row) === index);
  return first.map(({ row = 0, code }) =>
    problem(
      'csv-quotes',
      `line ${row + 1}`,
      '"',
      code === 'MissingQuotes'
        ? 'A cell begins with a quotation mark and none ends it'
        : 'A cell goes on after the quotation mark that ends it',
      'Put a cell with quotation marks in quotation marks and double those within it.',
    ),
  );
}

const EMPTY = fail([
  problem('csv-empty', 'file', '', 'The file is empty', 'Give a header line, a table line and rows.'),
]);

/**
 * The lines of a CSV text (RFC 4180, UTF-8 text with or without byte order mark; comma, semicolon or tab between the
 * cells). Fails when nothing is in it, or with every line whose quoting is wrong: what follows such a line cannot
 * be trusted.
 */
export function csvLines(
  text: string,
): Result<readonly [CsvLine, ...(readonly CsvLine[])], readonly Problem[]> {
  const plain = text.replace(BYTE_ORDER_MARK, '');
  const { data, errors } = Papa.parse<string[]>(plain, {
    delimiter: delimiterOf(plain),
    newline: lineEndOf(plain),
  });
  if (errors.length > 0) return fail(quotingProblems(errors));
  const lines = data.map((cells, index) => ({ number: index + 1, cells: withoutCarriageReturn(cells) }));
  const [first, ...rest] = lines.filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  return first === undefined ? EMPTY : ok([first, ...rest]);
}

/** The header read: for every column of the file what it holds (null: nothing known), and what is wrong. */
export interface Header {
  readonly columns: readonly (Column | null)[];
  readonly problems: readonly Problem[];
}

/** Reads the header line; capitals and white space about a name do not matter. */
export function readHeader({ number, cells }: CsvLine): Header {
  const problems: Problem[] = [];
  const seen = new Set<Column>();
  const columns = cells.map((cell, index) => {
    const name = cell.trim().toLowerCase();
    const column = COLUMNS.find((one) => one.name === name);
    const field = `line ${number}, column ${index + 1}`;
    if (column === undefined) {
      const names = COLUMNS.map((one) => one.name).join(', ');
      problems.push(
        problem('csv-column', field, cell, 'There is no column of this name', `Use one of ${names}.`),
      );
      return null;
    }
    if (seen.has(column)) {
      problems.push(problem('csv-column', field, cell, 'Two columns have this name', 'Remove one of them.'));
      return null;
    }
    seen.add(column);
    return column;
  });
  return { columns, problems };
}
