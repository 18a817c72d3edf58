import { describe, expect, test } from 'vitest';
import { csvOf, defectLine, evidenceLine, limitLine, matchLine, tableLine, testLine } from '../csvLines.ts';
import { cell, csvProblemsIn, type Fault, without } from './csvFaults.ts';

const cells: readonly Fault[] = [
  cell(
    'a type that is not known',
    limitLine,
    { type: 'limits' },
    'csv-kind: line 3, type: There is no type of this name (received limits). Use one of table, limit, defect, no rework, test, age, match, evidence.',
  ),
  cell(
    'an empty type',
    limitLine,
    { type: '' },
    'csv-kind: line 3, type: There is no type of this name (received an empty value). Use one of table, limit, defect, no rework, test, age, match, evidence.',
  ),
  cell(
    'evidence that nobody can give',
    evidenceLine,
    { ask: 'photos' },
    'csv-kind: line 3, ask: There is no ask of this name (received photos). Use one of photo, reading.',
  ),
  cell(
    'a cell that is needed',
    defectLine,
    { says: '' },
    'csv-empty-cell: line 3, says: A line of type defect needs this cell (received an empty value). Fill in the cell, or correct the type of the line.',
  ),
  cell(
    'a word that is needed and only white space',
    limitLine,
    { characteristic: ' ' },
    'csv-empty-cell: line 3, characteristic: A line of type limit needs this cell (received  ). Fill in the cell, or correct the type of the line.',
  ),
  cell(
    'a cell that its line does not use',
    defectLine,
    { 'keep min': '10' },
    'csv-unused: line 3, keep min: A line of type defect does not use this column (received 10). Empty the cell; the column belongs to limit.',
  ),
  cell(
    'a cell that other types of line use',
    testLine,
    { 'repair needs': 'upkeep' },
    'csv-unused: line 3, repair needs: A line of type test does not use this column (received upkeep). Empty the cell; the column belongs to limit, defect, age.',
  ),
  cell(
    'a position for a photo',
    { ...without(evidenceLine, 'characteristic'), repeats: '' },
    { ask: 'photo' },
    'csv-unused: line 3, positions: A line of type evidence (photo) does not use this column (received 3; 6). Empty the cell; the column belongs to evidence (reading).',
  ),
];

const headers: readonly Fault[] = [
  [
    'a column that is not known',
    csvOf(tableLine, { ...limitLine, 'keep minimum': '10' }),
    'csv-column: line 1, column 16: There is no column of this name (received keep minimum). Use one of type, name, title, edition, issued by, makers, series, constructions, effective from, effective until, decision rule, risk, components, zones, diameter from, diameter to, characteristic, states, unit, bounds of, nominal, nominal uncertainty, keep min, keep max, repair min, repair max, defects, verdict, repair up to length, repair up to area, repair needs, methods, within months, within hours, up to years, up to hours, beyond, unknown, between, pairs, together, ask, positions, repeats, state, says, note, source title, source section, source page, source edition, source kind.',
  ],
  [
    'a column twice',
    csvOf(tableLine, { ...limitLine, 'Keep Min ': '10' }),
    'csv-column: line 1, column 16: Two columns have this name (received Keep Min ). Remove one of them.',
  ],
  [
    'no column for what a line needs',
    csvOf(tableLine, without(limitLine, 'methods'), without({ ...limitLine, name: 'b' }, 'methods')),
    'csv-column-missing: line 1, methods: The header has no column "methods"; a line of type limit needs it (received nothing). Add the column to the header and to every line.',
  ],
  [
    'no column for the type',
    csvOf(without(tableLine, 'type'), without(limitLine, 'type')),
    'csv-column-missing: line 1, type: The header has no column "type"; every line needs it (received nothing). Add the column to the header and to every line.',
  ],
];

const files: readonly Fault[] = [
  [
    'nothing in it',
    '',
    'csv-empty: file: The file is empty (received an empty value). Give a header line, a table line and rows.',
  ],
  [
    'nothing but a byte order mark and blank lines',
    '\uFEFF\n ,\n',
    'csv-empty: file: The file is empty (received an empty value). Give a header line, a table line and rows.',
  ],
  [
    'no table line',
    csvOf(limitLine, { ...limitLine, name: 'b' }),
    'csv-line-missing: file: No line is of type table (received 2 rows). Add a line of type table with name, title, edition, issued by, effective from and decision rule.',
  ],
  [
    'two table lines',
    csvOf(tableLine, limitLine, tableLine),
    'csv-second-table: line 4, type: The file has a table line already; one file is one table (received table). Put each table in a file of its own.',
  ],
  [
    'no rows',
    csvOf(tableLine),
    'csv-line-missing: file: The table has no rows (received no rows). Add a line for each row, such as one of type limit.',
  ],
  [
    'a cell too few',
    csvOf(tableLine, limitLine).replace(/,demonstration$/, ''),
    'csv-cells: line 3: The line has 14 cells, the header 15 (received limit | a limit |  |  |  |  |  | rim base | gutter depth | mm | 10 | 8 | gauge …). Give every line as many cells as the header; put a cell with a separator in it in quotation marks.',
  ],
  [
    'a cell too many',
    csvOf(tableLine, limitLine).replace('10', '10,5'),
    'csv-cells: line 3: The line has 16 cells, the header 15 (received limit | a limit |  |  |  |  |  | rim base | gutter depth | mm | 10 | 5 | 8 | ga…). Give every line as many cells as the header; put a cell with a separator in it in quotation marks.',
  ],
  [
    'a table line that is too short',
    csvOf(tableLine, limitLine).replace('guarded,', 'guarded'),
    'csv-cells: line 2: The line has 14 cells, the header 15 (received table | test table | Test table | 1 | tests | 2000-01-01 | guarded |  |  |  |  …). Give every line as many cells as the header; put a cell with a separator in it in quotation marks.',
  ],
  [
    'a quotation mark that nothing ends',
    csvOf(tableLine, limitLine, { ...defectLine, says: 'X' }).replace('a limit', '"a limit'),
    'csv-quotes: line 3: A cell begins with a quotation mark and none ends it (received "). Put a cell with quotation marks in quotation marks and double those within it.',
  ],
  [
    'text after a closing quotation mark',
    csvOf(tableLine, limitLine, defectLine).replace('a limit', '"a" limit'),
    'csv-quotes: line 3: A cell goes on after the quotation mark that ends it (received "). Put a cell with quotation marks in quotation marks and double those within it.',
  ],
  [
    'a cell too many where the header has one column, since commas separate',
    'type\ntable,limit',
    'csv-cells: line 2: The line has 2 cells, the header 1 (received table | limit). Give every line as many cells as the header; put a cell with a separator in it in quotation marks.',
  ],
];

/** What `parseTable` finds, told at the cell it comes from. */
const checks: readonly Fault[] = [
  [
    'a name twice',
    csvOf(tableLine, limitLine, { ...testLine, name: 'a limit' }),
    'table-row-id: line 4, name: Two rows have this name (received a limit). Give each row its own name.',
  ],
  cell(
    'a keep bound beyond the repair bound',
    limitLine,
    { 'keep min': '7,5 mm' },
    'table-keep-beyond-repair: line 3, keep min: The keep bound lies beyond the repair bound (received 7,5 mm). Every value that may be kept must lie inside the repair bounds too.',
  ),
  cell(
    'bounds in percent without the nominal size',
    limitLine,
    { 'bounds of': 'percent lost', 'keep min': '', 'keep max': '5', 'repair min': '' },
    'table-nominal: line 3, nominal: Bounds of "percent lost" need the nominal size (received an empty value). Give the nominal size, that of the new part, or give the bounds as sizes.',
  ),
  cell(
    'no bound at all',
    limitLine,
    { 'keep min': '', 'repair min': '' },
    'table-field: line 3, keep min: Give min, max or both (received an empty value). Correct this value of the table.',
  ),
  cell(
    'a test within no time',
    testLine,
    { 'within months': '' },
    'table-interval: line 3, within months: The row does not say how long (received an empty value). Give a number of months, of hours on duty, or both.',
  ),
  cell(
    'one end of a range of diameters',
    limitLine,
    { 'diameter from': '25' },
    'table-field: line 3, diameter to: Invalid input: expected number, received undefined (received an empty value). Correct this value of the table.',
  ),
  cell(
    'a kind of source that is not known',
    limitLine,
    { 'source kind': 'hearsay' },
    'table-field: line 3, source kind: Invalid option: expected one of "published"|"maker"|"site"|"common practice"|"from memory"|"demonstration" (received hearsay). Correct this value of the table.',
  ),
  cell(
    'one part of two that bear on each other',
    matchLine,
    { between: 'lock ring' },
    'csv-list: line 3, between: Two entries are needed, not 1 (received lock ring). Write two entries with a semicolon between them; their order is that of the two sides of each pair.',
  ),
  cell(
    'three parts that bear on each other',
    matchLine,
    { between: 'lock ring; rim base; side flange' },
    'csv-list: line 3, between: Two entries are needed, not 3 (received lock ring; rim base; side flange). Write two entries with a semicolon between them; their order is that of the two sides of each pair.',
  ),
  cell(
    'a wrong backslash between two parts',
    matchLine,
    { between: 'lock ring; \\rim base' },
    'csv-list: line 3, between: A backslash stands before something that needs none (received lock ring; \\rim base). Separate the entries by semicolons; write \\; for a semicolon that is meant.',
  ),
  cell(
    'a clock position beyond 12',
    evidenceLine,
    { positions: '3; 13' },
    'table-field: line 3, positions: Too big: expected number to be <=12 (received 3; 13). Correct this value of the table.',
  ),
  [
    'a construction that is not known',
    csvOf({ ...tableLine, constructions: 'six-piece' }, limitLine),
    'table-field: line 2, constructions: Invalid option: expected one of "three-piece"|"three-piece with disc"|"five-piece"|"double-gutter seven-piece" (received six-piece). Correct this value of the table.',
  ],
  [
    'an end before the beginning',
    csvOf(limitLine, { ...tableLine, 'effective until': '1999-12-31' }),
    'table-effective: line 3, effective until: The last day of effect lies before the first, 2000-01-01 (received 1999-12-31). Give a later day, or none for a table without an end.',
  ],
  [
    'more rows than a table may have',
    csvOf(tableLine, ...Array.from({ length: 5001 }, (_, i) => ({ ...testLine, name: `${i}` }))),
    'table-field: file: Too big: expected array to have <=5000 items (received 5001 rows). Correct this value of the table.',
  ],
];

describe('one fault of the lines of a CSV file, told at its place and alone', () => {
  for (const [group, faults] of Object.entries({ cells, headers, files, checks })) {
    describe(group, () => {
      test.each(faults)('%s', (_, text, problem) => {
        expect(csvProblemsIn(text)).toEqual([problem]);
      });
    });
  }
});

describe('several faults', () => {
  test('are told all at once, in the order of header and lines', () => {
    const text = csvOf(
      { ...tableLine, risk: 'small', colour: 'red' },
      { ...limitLine, unit: 'furlong', 'keep min': 'x;y', 'up to years': '3' },
      { ...limitLine, type: 'limits' },
      without(defectLine, 'says'),
      tableLine,
    );
    expect(csvProblemsIn(text).map((one) => one.replace(/^[\w-]+: (.*?): .*$/, '$1'))).toEqual([
      'line 1, column 9',
      'line 1, says',
      'line 2, risk',
      'line 3, unit',
      'line 3, keep min',
      'line 3, up to years',
      'line 4, type',
      'line 6, type',
    ]);
  });

  test('of cells and of the table are told together, and nothing that only follows from a cell that cannot be read', () => {
    const text = csvOf(
      { ...tableLine, 'effective from': '2026-01-01', 'effective until': '2025-01-01' },
      { ...limitLine, 'keep min': 'ten', components: 'rim bsae' },
      { ...limitLine, name: 'second', 'keep min': '5', 'source kind': 'sight' },
      { ...limitLine, name: 'second' },
    );
    expect(csvProblemsIn(text).map((one) => one.split(':').slice(0, 2).join(':'))).toEqual([
      'table-effective: line 2, effective until',
      'csv-number: line 3, keep min',
      'table-field: line 3, components',
      'table-field: line 4, source kind',
    ]);
  });

  test('of quoting are told once for every line, and nothing of what follows from them', () => {
    const text = csvOf({ ...tableLine, colour: 'red' }, limitLine, { ...limitLine, name: 'second' })
      .replace('a limit', '"a" limit"')
      .replace('second', '"sec"ond"');
    expect(csvProblemsIn(text).map((one) => one.slice(0, 18))).toEqual([
      'csv-quotes: line 3',
      'csv-quotes: line 4',
    ]);
    const twice = csvOf(tableLine, limitLine).replace('a limit', '"a" "limit"');
    expect(csvProblemsIn(twice)).toHaveLength(1);
  });

  test('a line counts as a row of a spreadsheet: a break within quotes begins none, a blank one counts', () => {
    const text = csvOf(
      tableLine,
      { ...limitLine, note: 'two\nlines' },
      { ...limitLine, name: 'second', unit: '' },
    );
    expect(csvProblemsIn(text.replace(/\n(?=table)/, '\n\n'))).toEqual([
      'csv-unit: line 5, unit: The unit of keep min is not given (received an empty value). Write mm or in.',
    ]);
  });
});
