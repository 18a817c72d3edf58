import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { COLUMNS } from './csvColumns.ts';
import { type CsvLine, csvLines, readHeader } from './csvLines.ts';
import { type Cells, kindOfLine, placeOfCell, type ReadLine, readLine } from './csvRow.ts';
import type { TableLines } from './lines.ts';

/** The lines of a file whose header can be read, with what is wrong with lines that cannot. */
export interface CsvFile extends TableLines {
  readonly problems: readonly Problem[];
}

type Names = readonly (string | undefined)[];

/**
 * Reads lines and cells of a CSV text. Fails with every problem in them, in the order of the lines, when columns are
 * missing or no line is the table's; what else is wrong comes with the lines.
 */
export function readCsvFile(text: string): Result<CsvFile, readonly Problem[]> {
  const lines = csvLines(text);
  if (!lines.ok) return lines;
  const [first, ...rest] = lines.value;
  const header = readHeader(first);
  const names = header.columns.map((column) => column?.name);
  if (!names.includes('type')) {
    return fail([...header.problems, missingColumn(first.number, 'type', 'every line')]);
  }
  const read = rest.map((line) => readCells(line, names));
  const whole = read.filter((line): line is ReadLine => !isProblem(line));
  const [tableLine, ...moreTables] = whole.filter(({ kind }) => kind === 'table');
  const rowLines = whole.filter(({ kind }) => kind !== 'table');
  const ofHeader = [...header.problems, ...missingColumns(first.number, names, whole)];
  const ofLines = moreTables.map(({ number }) => secondTable(number));
  // A line that cannot be read may be the one that is missed.
  const missed = whole.length < read.length ? [] : missingLines(tableLine, rowLines);
  if (ofHeader.length + missed.length > 0 || tableLine === undefined) {
    const ofCells = read.flatMap((line) => (isProblem(line) ? [line] : line.problems));
    return fail([...ofHeader, ...ofCells, ...ofLines, ...missed]);
  }
  return ok({ tableLine, rowLines, problems: [...read.filter(isProblem), ...ofLines] });
}

function isProblem(line: ReadLine | Problem): line is Problem {
  return 'wayOut' in line;
}

function readCells({ number, cells }: CsvLine, names: Names): ReadLine | Problem {
  if (cells.length !== names.length) {
    return problem(
      'csv-cells',
      `line ${number}`,
      cells.join(' | '),
      `The line has ${cells.length} cells, the header ${names.length}`,
      'Give every line as many cells as the header; put a cell with a separator in it in quotation marks.',
    );
  }
  const byName: Cells = new Map(cells.map((cell, index) => [names[index], cell]));
  const kind = kindOfLine(number, byName);
  return typeof kind === 'string' ? readLine(number, kind, byName) : kind;
}

function missingColumn(headerLine: number, name: string, users: string): Problem {
  return problem(
    'csv-column-missing',
    placeOfCell(headerLine, name),
    undefined,
    `The header has no column "${name}"; ${users} needs it`,
    'Add the column to the header and to every line.',
  );
}

/** Columns that some line of the file cannot do without. */
function missingColumns(headerLine: number, names: Names, lines: readonly ReadLine[]): Problem[] {
  return COLUMNS.filter(({ name }) => !names.includes(name)).flatMap(({ name, needed }) => {
    const user = lines.find(({ kind }) => needed.includes(kind));
    return user === undefined ? [] : [missingColumn(headerLine, name, `a line of type ${user.kind}`)];
  });
}

function secondTable(number: number): Problem {
  return problem(
    'csv-second-table',
    placeOfCell(number, 'type'),
    'table',
    'The file has a table line already; one file is one table',
    'Put each table in a file of its own.',
  );
}

function missingLines(tableLine: ReadLine | undefined, rowLines: readonly ReadLine[]): Problem[] {
  const missing = (value: string, message: string, wayOut: string) =>
    problem('csv-line-missing', 'file', value, message, wayOut);
  return [
    ...(tableLine === undefined
      ? [
          missing(
            `${rowLines.length} rows`,
            'No line is of type table',
            'Add a line of type table with name, title, edition, issued by, effective from and decision rule.',
          ),
        ]
      : []),
    ...(rowLines.length === 0
      ? [missing('no rows', 'The table has no rows', 'Add a line for each row, such as one of type limit.')]
      : []),
  ];
}
