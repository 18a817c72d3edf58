import { beforeAll, describe, expect, test } from 'vitest';
import { readTableFile, type Table, tableHash, tableToCsv } from '../../lib/tolerances/index.ts';
import { tableOf, testSource } from '../support/evidence.ts';
import { csvOf, limitLine, tableLine } from './csvLines.ts';

let table: Table;
let json: string;
let csv: string;
beforeAll(() => {
  table = tableOf([
    { row: 'never', type: 'no rework', says: '{No heat.}', source: testSource },
    {
      row: 'depth',
      type: 'limit',
      characteristic: 'gutter depth',
      keep: { min: 10 },
      repair: null,
      methods: ['gauge'],
      source: { ...testSource, title: 'Byte\uFEFForder' },
    },
  ]);
  json = JSON.stringify(table);
  csv = tableToCsv(table);
});

function read(text: string) {
  const file = readTableFile('limits', text);
  if (!file.ok) throw new Error(JSON.stringify(file.error));
  return file.value;
}
function problemsIn(text: string) {
  const file = readTableFile('limits', text);
  return file.ok ? [] : file.error;
}

describe('a table file', () => {
  test.each([
    ['JSON', () => json, 'json'],
    ['JSON with a byte order mark and blank lines', () => `\uFEFF\n ${json}`, 'json'],
    ['CSV', () => csv, 'csv'],
    ['CSV without its byte order mark', () => csv.slice(1), 'csv'],
  ])('is told by its content: %s', (_, text, form) => {
    const file = read(text());
    expect(file.form).toBe(form);
    expect(tableHash(file.table)).toBe(tableHash(table));
  });

  test('knows where a field of the table stands in it', () => {
    const fields = [
      'rows.1.keep.min',
      'rows.1.keep',
      'rows.1',
      'rows.0.says',
      'rows.1.methods.0',
      'scope.makers.0',
      'scope',
      'decision',
      'rows',
    ];
    expect(fields.map(read(json).placeOf)).toEqual(fields);
    expect(fields.map(read(csv).placeOf)).toEqual([
      'line 4, keep min',
      'line 4, keep min',
      'line 4, type',
      'line 3, says',
      'line 4, methods',
      'line 2, makers',
      'line 2, makers',
      'line 2, decision rule',
      'file',
    ]);
  });

  test('has its name before every problem', () => {
    expect(problemsIn('{ "table": 1 }').map((one) => one.field)).toContain('limits: title');
    expect(problemsIn(csvOf(tableLine, { ...limitLine, unit: '' })).map((one) => one.field)).toEqual([
      'limits: line 3, unit',
    ]);
  });

  test('that is neither a table nor an object is refused', () => {
    expect(problemsIn('[]')).toEqual([
      {
        code: 'table-field',
        field: 'limits',
        value: '[]',
        message: 'Invalid input: expected object, received array',
        wayOut: 'Correct this value of the table.',
      },
    ]);
    expect(problemsIn(' {"table": ')).toEqual([
      {
        code: 'table-not-json',
        field: 'limits',
        value: '{"table":',
        message: expect.stringMatching(/^The file begins as JSON does, but is not JSON: .*JSON/),
        wayOut: 'Correct the file at the place named.',
      },
    ]);
    expect(problemsIn('limits of the maker')).toHaveLength(2);
  });
});
