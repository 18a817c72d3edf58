import { describe, expect, test } from 'vitest';
import { defectLine, evidenceLine, limitLine, matchLine, testLine } from '../csvLines.ts';
import { cell, csvProblemsIn, type Fault } from './csvFaults.ts';

const NUMBER = 'Type one number, such as 10.5, 10,5, 7/16 or 1 3/16.';
const LIST = 'Separate the entries by semicolons; write \\; for a semicolon that is meant.';
const PAIRS =
  'Write maker | series + maker | series, pairs separated by semicolons; put a backslash before ; + | or \\ in a name.';

const numbers: readonly Fault[] = [
  cell(
    'a word for a number',
    limitLine,
    { 'keep min': 'ten' },
    `csv-number: line 3, keep min: "ten" is not a unit of length known here (received ten). ${NUMBER}`,
  ),
  cell(
    'two numbers in a cell',
    limitLine,
    { 'keep min': '10 to 12' },
    `csv-number: line 3, keep min: This cannot be read as one number (received 10 to 12). ${NUMBER}`,
  ),
  cell(
    'another unit than that of the line',
    limitLine,
    { 'keep min': '1 cm' },
    'csv-number: line 3, keep min: The cell is in cm, the line in mm (received 1 cm). Give the cell in the unit of its line, or change the unit.',
  ),
  cell(
    'a comma that may be for thousands',
    limitLine,
    { 'keep min': '10,500 mm' },
    'csv-comma: line 3, keep min: The comma can stand for decimals or for thousands (received 10,500 mm). Write 10.500 mm or 10500 mm.',
  ),
  cell(
    'a comma that may be for thousands, below zero',
    limitLine,
    { 'keep min': '− 1,500', 'repair min': '' },
    'csv-comma: line 3, keep min: The comma can stand for decimals or for thousands (received − 1,500). Write − 1.500 or − 1500.',
  ),
  cell(
    'a number beyond all numbers',
    limitLine,
    { 'keep min': '1e999' },
    `csv-number: line 3, keep min: The number is too large (received 1e999). ${NUMBER}`,
  ),
  cell(
    'a number that is too large once it is in mm',
    limitLine,
    { 'keep min': '1e308', unit: 'in', 'repair min': '' },
    `csv-number: line 3, keep min: The number is too large (received 1e308). ${NUMBER}`,
  ),
  cell(
    'more digits than a number has',
    limitLine,
    { 'keep min': '1'.repeat(41) },
    `csv-number: line 3, keep min: This cannot be read as one number (received ${'1'.repeat(41)}). ${NUMBER}`,
  ),
  cell(
    'a unit behind an area',
    limitLine,
    { characteristic: 'corrosion area', 'keep min': '40 mm', 'repair min': '' },
    `csv-number: line 3, keep min: This cannot be read as one number (received 40 mm). ${NUMBER}`,
  ),
  cell(
    'a unit behind a percentage',
    limitLine,
    { 'bounds of': 'percent lost', nominal: '40', 'keep min': '', 'keep max': '10 mm', 'repair min': '' },
    `csv-number: line 3, keep max: This cannot be read as one number (received 10 mm). ${NUMBER}`,
  ),
  cell(
    'a date for a number of months',
    testLine,
    { 'within months': '12 Jan' },
    `csv-number: line 3, within months: This cannot be read as one number (received 12 Jan). ${NUMBER}`,
  ),
  cell(
    'a clock position that is no number',
    evidenceLine,
    { positions: '3; six' },
    `csv-number: line 3, positions: This cannot be read as one number (received 3; six). ${NUMBER}`,
  ),
  cell(
    'a comma that may be for thousands, among white space',
    testLine,
    { 'within hours': ' 5,000 ' },
    'csv-comma: line 3, within hours: The comma can stand for decimals or for thousands (received  5,000 ). Write 5.000 or 5000.',
  ),
  cell(
    'something before an exponent that is no number',
    testLine,
    { 'within hours': 'x1e5' },
    `csv-number: line 3, within hours: This cannot be read as one number (received x1e5). ${NUMBER}`,
  ),
  cell(
    'something after an exponent',
    testLine,
    { 'within hours': '1e5x' },
    `csv-number: line 3, within hours: This cannot be read as one number (received 1e5x). ${NUMBER}`,
  ),
  cell(
    'a percent sign within a number',
    limitLine,
    { 'bounds of': 'percent lost', nominal: '40', 'keep min': '', 'keep max': '1%5', 'repair min': '' },
    `csv-number: line 3, keep max: This cannot be read as one number (received 1%5). ${NUMBER}`,
  ),
];

const units: readonly Fault[] = [
  cell(
    'sizes without a unit',
    limitLine,
    { unit: '' },
    'csv-unit: line 3, unit: The unit of keep min is not given (received an empty value). Write mm or in.',
  ),
  cell(
    'a nominal size without a unit, though the bounds are in percent',
    limitLine,
    {
      unit: '',
      'bounds of': 'percent lost',
      nominal: '10',
      'keep min': '',
      'keep max': '5',
      'repair min': '',
    },
    'csv-unit: line 3, unit: The unit of nominal is not given (received an empty value). Write mm or in.',
  ),
  cell(
    'a length of a crack without a unit',
    defectLine,
    { verdict: 'repair', 'repair up to length': '20' },
    'csv-unit: line 3, unit: The unit of repair up to length is not given (received an empty value). Write mm or in.',
  ),
  cell(
    'an area without a unit',
    defectLine,
    { verdict: 'repair', 'repair up to area': '20' },
    'csv-unit: line 3, unit: The unit of repair up to area is not given (received an empty value). Write mm or in.',
  ),
  cell(
    'a unit that is not known',
    limitLine,
    { unit: 'cm' },
    'csv-unit: line 3, unit: This is not a unit known here (received cm). Write mm or in.',
  ),
  cell(
    'a unit that is not known where nothing has one',
    defectLine,
    { unit: 'ft' },
    'csv-unit: line 3, unit: This is not a unit known here (received ft). Write mm or in.',
  ),
];

const lists: readonly Fault[] = [
  cell(
    'an empty entry',
    limitLine,
    { methods: 'gauge;;photo' },
    `csv-list: line 3, methods: An entry between two semicolons, or at an end, is empty (received gauge;;photo). ${LIST}`,
  ),
  cell(
    'an empty entry at the end',
    limitLine,
    { methods: 'gauge; ' },
    `csv-list: line 3, methods: An entry between two semicolons, or at an end, is empty (received gauge; ). ${LIST}`,
  ),
  cell(
    'a backslash that escapes nothing',
    limitLine,
    { methods: 'gau\\ge' },
    `csv-list: line 3, methods: A backslash stands before something that needs none (received gau\\ge). ${LIST}`,
  ),
  cell(
    'a backslash at the end',
    limitLine,
    { methods: 'gauge\\' },
    `csv-list: line 3, methods: A backslash stands before something that needs none (received gauge\\). ${LIST}`,
  ),
  cell(
    'an empty entry among positions',
    evidenceLine,
    { positions: ';3' },
    `csv-list: line 3, positions: An entry between two semicolons, or at an end, is empty (received ;3). ${LIST}`,
  ),
  cell(
    'one side of a pair',
    matchLine,
    { pairs: 'Ring' },
    `csv-list: line 3, pairs: Not every entry is a pair, two sides with a + between them (received Ring). ${PAIRS}`,
  ),
  cell(
    'three sides of a pair',
    matchLine,
    { pairs: 'A + B; A + B + C' },
    `csv-list: line 3, pairs: Not every entry is a pair, two sides with a + between them (received A + B; A + B + C). ${PAIRS}`,
  ),
  cell(
    'a side without a maker',
    matchLine,
    { pairs: ' | S + B' },
    `csv-list: line 3, pairs: One side of a pair names no maker (received  | S + B). ${PAIRS}`,
  ),
  cell(
    'the other side without a maker',
    matchLine,
    { pairs: 'A +' },
    `csv-list: line 3, pairs: One side of a pair names no maker (received A +). ${PAIRS}`,
  ),
  cell(
    'more than maker and series',
    matchLine,
    { pairs: 'A | B | C + D' },
    `csv-list: line 3, pairs: More than a maker and a series stand on one side of a pair (received A | B | C + D). ${PAIRS}`,
  ),
  cell(
    'a backslash that escapes nothing in a name',
    matchLine,
    { pairs: 'A + \\B' },
    `csv-list: line 3, pairs: A backslash stands before something that needs none (received A + \\B). ${PAIRS}`,
  ),
];

describe('one faulty cell of a CSV file, told at its place and alone', () => {
  for (const [group, faults] of Object.entries({ numbers, units, lists })) {
    describe(group, () => {
      test.each(faults)('%s', (_, text, problem) => {
        expect(csvProblemsIn(text)).toEqual([problem]);
      });
    });
  }
});
