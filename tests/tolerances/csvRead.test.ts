import { beforeAll, describe, expect, test } from 'vitest';
import { type Row, type Table, tableFromCsv, tableToCsv } from '../../lib/tolerances/index.ts';
import { toMm } from '../../lib/units/index.ts';
import { testSource } from '../support/evidence.ts';
import {
  csvOf,
  defectLine,
  evidenceLine,
  type Line,
  limitLine,
  matchLine,
  tableLine,
  testLine,
} from './csvLines.ts';

function read(text: string) {
  const placed = tableFromCsv(text);
  if (!placed.ok) throw new Error(JSON.stringify(placed.error, null, 1));
  return placed.value.table;
}

/** The one row of a file with one row. */
function rowOf(line: Line): Row {
  const [row, ...more] = read(csvOf(tableLine, line)).rows;
  if (row === undefined || more.length > 0) throw new Error('not one row');
  return row;
}

const source = { ...testSource, section: '', page: '', edition: '' };
const base = { source, note: '' };

describe('a table line', () => {
  test('alone says what the table is; what is left out is any, and 5 % of risk', () => {
    const { rows, ...table } = read(csvOf(tableLine, limitLine));
    expect(rows).toHaveLength(1);
    expect(table).toEqual({
      table: 'test table',
      title: 'Test table',
      edition: '1',
      issuedBy: 'tests',
      scope: { makers: [], series: [], constructions: [] },
      effectiveFrom: '2000-01-01',
      decision: { rule: 'guarded', risk: 0.05 },
    });
  });

  test('names scope, last day and risk', () => {
    const { scope, effectiveUntil, decision } = read(
      csvOf(limitLine, {
        ...tableLine,
        makers: 'One; Two \\; Sons',
        series: 'A',
        constructions: 'three-piece;five-piece',
        components: 'rim base',
        'diameter from': '25',
        'diameter to': '51',
        'effective until': ' 2030-12-31 ',
        'decision rule': 'simple acceptance',
        risk: '0,01',
      }),
    );
    expect(scope).toEqual({
      makers: ['One', 'Two ; Sons'],
      series: ['A'],
      constructions: ['three-piece', 'five-piece'],
      components: ['rim base'],
      diameterCodes: { min: 25, max: 51 },
    });
    expect([effectiveUntil, decision]).toEqual(['2030-12-31', { rule: 'simple acceptance', risk: 0.01 }]);
  });
});

describe('a row of each type', () => {
  test('limit', () => {
    expect(rowOf({ ...limitLine, states: 'free; fitted', zones: 'gutter groove', note: 'as new' })).toEqual({
      type: 'limit',
      row: 'a limit',
      components: ['rim base'],
      zones: ['gutter groove'],
      characteristic: 'gutter depth',
      states: ['free', 'fitted'],
      keep: { min: 10 },
      repair: { min: 8 },
      repairNeeds: 'rework',
      methods: ['gauge'],
      source,
      note: 'as new',
    });
  });

  test('a limit without repair bounds leaves nothing between keep and scrap', () => {
    expect(rowOf({ ...limitLine, 'repair min': ' ' })).toMatchObject({ keep: { min: 10 }, repair: null });
  });

  test('defect', () => {
    expect(
      rowOf({
        ...defectLine,
        defects: 'crack; corrosion',
        verdict: 'repair',
        unit: 'in',
        'repair up to length': '1/2',
        'repair up to area': '2',
        'repair needs': 'upkeep',
      }),
    ).toEqual({
      type: 'defect',
      row: 'a defect',
      defects: ['crack', 'corrosion'],
      verdict: 'repair',
      repairUpToMm: 12.7,
      repairUpToMm2: 2 * 645.16,
      repairNeeds: 'upkeep',
      says: 'Cracked parts go.',
      ...base,
    });
  });

  test('no rework', () => {
    const { 'source title': title = '', 'source kind': kind = '' } = defectLine;
    const line = {
      type: 'no rework',
      name: 'never',
      says: 'No heat.',
      'source title': title,
      'source kind': kind,
    };
    expect(rowOf(line)).toEqual({ type: 'no rework', row: 'never', says: 'No heat.', ...base });
  });

  test('test', () => {
    expect(rowOf({ ...testLine, 'within hours': '5000,5' })).toEqual({
      type: 'test',
      row: 'a test',
      methods: ['penetrant'],
      withinMonths: 12,
      withinHours: 5000.5,
      ...base,
    });
  });

  test('age', () => {
    const age = {
      type: 'age',
      name: 'old',
      'up to years': '10',
      'up to hours': '20000',
      beyond: 'scrap',
      unknown: 'hold',
      says: 'Ten years.',
      'source title': 'Test',
      'source kind': 'demonstration',
    };
    expect(rowOf(age)).toEqual({
      type: 'age',
      row: 'old',
      upToYears: 10,
      upToHours: 20000,
      beyond: 'scrap',
      repairNeeds: 'rework',
      unknown: 'hold',
      says: 'Ten years.',
      ...base,
    });
  });

  test('match, a maker alone standing for any series', () => {
    expect(rowOf({ ...matchLine, pairs: 'R\\+S + Base|B \\| C ;Ring | + Base \\\\ Co' })).toEqual({
      type: 'match',
      row: 'a match',
      between: ['lock ring', 'rim base'],
      pairs: [
        [
          { maker: 'R+S', series: '' },
          { maker: 'Base', series: 'B | C' },
        ],
        [
          { maker: 'Ring', series: '' },
          { maker: 'Base \\ Co', series: '' },
        ],
      ],
      together: 'may',
      says: 'The ring suits.',
      ...base,
    });
  });

  test('evidence: readings at positions, or anywhere without them', () => {
    const ask = { what: 'reading', characteristic: 'gutter depth', repeats: 2 };
    expect(rowOf({ ...evidenceLine, state: 'free' })).toEqual({
      type: 'evidence',
      row: 'readings',
      ask: { ...ask, positions: [3, 6], state: 'free' },
      ...base,
    });
    expect(rowOf({ ...evidenceLine, positions: '' })).toMatchObject({ ask: { ...ask, positions: [] } });
  });

  test('evidence: photos', () => {
    const { characteristic: _, positions: __, repeats: ___, ...line } = evidenceLine;
    expect(rowOf({ ...line, ask: 'photo', zones: 'gutter groove' })).toEqual({
      type: 'evidence',
      row: 'readings',
      zones: ['gutter groove'],
      ask: { what: 'photo' },
      ...base,
    });
  });
});

describe('numbers as people type them', () => {
  const kept = (over: Line) => {
    const row = rowOf({ ...limitLine, 'repair min': '', ...over });
    if (row.type !== 'limit') throw new Error('no limit');
    return row;
  };
  test.each([
    ['10.5', 'mm', 10.5],
    ['10,5', 'mm', 10.5],
    [' 10 mm ', 'mm', 10],
    ['−70', 'mm', -70],
    ['7/16', 'in', 11.1125],
    ['1 3/16', 'in', 30.1625],
    ['1 3/16"', 'in', 30.1625],
    ['0,125', 'mm', 0.125],
    ['10,1250', 'mm', 10.125],
    ['10.125', 'mm', 10.125],
    ['1234,125', 'mm', 1234.125],
    ['1,5E+03', 'mm', 1500],
    ['2.5e-7', 'mm', 2.5e-7],
    ['-1e2', 'mm', -100],
    ['12e1', 'mm', 120],
    [`${'0'.repeat(37)}120`, 'mm', 120],
  ])('%s in %s', (text, unit, valueMm) => {
    expect(kept({ unit, 'keep min': text }).keep).toEqual({ min: valueMm });
  });

  test('areas in inches are in square inches', () => {
    expect(kept({ characteristic: 'corrosion area', unit: 'in', 'keep min': '2' }).keep).toEqual({
      min: 2 * 645.16,
    });
    expect(kept({ characteristic: 'corrosion area', 'keep min': '2' }).keep).toEqual({ min: 2 });
  });

  test('bounds from nominal are in the unit of the line, as the nominal size and its uncertainty are', () => {
    expect(
      kept({
        'bounds of': 'from nominal',
        unit: 'in',
        nominal: '1',
        'nominal uncertainty': '0.01',
        'keep min': '-1/4',
      }),
    ).toMatchObject({
      boundsOf: 'from nominal',
      nominal: { value: 25.4, u: 0.254 },
      keep: { min: -6.35 },
    });
  });

  test('percent lost has no unit; the nominal size has', () => {
    expect(
      kept({ 'bounds of': 'percent lost', unit: 'in', nominal: '1', 'keep min': '', 'keep max': '15 %' }),
    ).toMatchObject({ boundsOf: 'percent lost', nominal: { value: 25.4, u: 0 }, keep: { max: 15 } });
  });

  test('a line without sizes needs no unit', () => {
    expect(rowOf(defectLine)).toMatchObject({ type: 'defect' });
  });

  test('white space about a word does not matter, nor in a cell that the line does not use', () => {
    const airy = {
      ...limitLine,
      type: ' limit ',
      unit: ' in ',
      characteristic: ' corrosion area ',
      says: ' ',
    };
    expect(rowOf({ ...airy, 'keep min': '2', 'repair min': '' })).toMatchObject({
      keep: { min: 2 * 645.16 },
    });
    const percent = {
      ...airy,
      'bounds of': ' percent lost ',
      nominal: '1',
      'keep min': '',
      'repair min': '',
    };
    expect(rowOf({ ...percent, 'keep max': ' 5 % ' })).toMatchObject({ keep: { max: 5 } });
    expect(rowOf({ ...evidenceLine, type: 'evidence ', ask: ' reading' })).toMatchObject({
      type: 'evidence',
    });
  });
});

describe('the file', () => {
  const lines = csvOf(tableLine, limitLine, defectLine);
  let expected: Table;
  beforeAll(() => {
    expected = read(lines);
  });

  test('may have blank lines, capitals and white space in its header, and end without a line break', () => {
    const [header = '', ...rest] = lines.split('\n');
    const airy = ['', header.toUpperCase().replaceAll(',', ' , '), ',,,,', ...rest].join('\n');
    expect(read(airy)).toEqual(expected);
    expect(read(`${lines}\n\n`)).toEqual(expected);
  });

  test('may have its lines end in CR LF, which belongs to no cell', () => {
    const noted = csvOf(tableLine, { ...limitLine, note: 'a\rb' }, { ...defectLine, note: 'c' });
    const { rows } = read(noted.replaceAll('\n', '\r\n'));
    expect(rows.map((row) => row.note)).toEqual(['a\rb', 'c']);
  });

  test('may have semicolons or tabs between its cells, and blank lines before them', () => {
    for (const separator of [';', '\t'])
      expect(read(`\n\n${lines.replaceAll(',', separator)}`)).toEqual(expected);
  });

  test('may have its lines end in different ways', () => {
    expect(read(lines.replace('\n', '\r\n'))).toEqual(expected);
    expect(read(lines.replace(/\n(?=limit)/, '\r\n'))).toEqual(expected);
  });

  test('may have its columns and lines in any order', () => {
    const shuffled = csvOf(...[limitLine, tableLine, defectLine].map(backwards));
    expect(read(shuffled)).toEqual(expected);
  });

  test('keeps a carriage return that ends a cell which does not end its line', () => {
    expect(rowOf({ ...limitLine, note: 'two\r', 'source page': '4' }).note).toBe('two\r');
  });

  test('has text with white space and apostrophes as it stands, and apostrophes before formulas taken away', () => {
    for (const [written, text] of [
      [' padded ', ' padded '],
      ["'=1+1", '=1+1'],
      ["''=1+1", "'=1+1"],
      ["'plain'", "'plain'"],
      ["' =1", ' =1'],
      ['=1+1', '=1+1'],
      ['-5 mm only', '-5 mm only'],
    ] as const)
      expect(rowOf({ ...limitLine, note: written }).note).toBe(text);
  });
});

function backwards(line: Line): Line {
  return Object.fromEntries(Object.entries(line).reverse());
}

describe('what is written', () => {
  let text: string;
  beforeAll(() => {
    text = tableToCsv(
      read(
        csvOf(
          { ...tableLine, makers: ' @Maker ; A\\;B' },
          {
            ...limitLine,
            unit: 'in',
            'keep min': '1/3',
            'repair min': '1/4',
            name: '=cmd()',
            note: "a = b '=",
          },
          defectLine,
          { ...matchLine, pairs: '=A + \\+B | @C' },
        ),
      ),
    );
  });

  test('begins with a byte order mark and the header, and ends its lines with CR LF', () => {
    expect(text.startsWith('\uFEFFtype,name,title,edition,issued by,makers,')).toBe(true);
    expect(text.endsWith('demonstration\r\n')).toBe(true);
    expect(text.split('\r\n')).toHaveLength(6);
  });

  test('is in mm with full precision, and names a unit only where there is a size', () => {
    const [, , limit = '', defect = ''] = text.split('\r\n');
    expect(limit).toContain(`,mm,,,,${toMm(1 / 3, 'in')},,6.35,`);
    expect(defect).not.toContain('mm');
  });

  test('has an apostrophe before text, list entries and names that would begin a formula', () => {
    expect(text).toContain("limit,'=cmd(),");
    expect(text).toContain(",a = b '=,");
    expect(text).toContain("'@Maker; A\\;B");
    expect(text).toContain("'=A + '\\+B | '@C");
  });
});
