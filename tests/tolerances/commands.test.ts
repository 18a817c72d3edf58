import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { bundledTables, tableFromCsv, tableHash, tableToCsv } from '../../lib/tolerances/index.ts';
import { assess } from '../../tools/cli/assess.ts';
import { convertTable } from '../../tools/cli/convertTable.ts';
import { lintTableCommand } from '../../tools/cli/lintTable.ts';
import { replay } from '../../tools/cli/replay.ts';
import { csvOf, defectLine, limitLine, tableLine } from './csvLines.ts';

const root = resolve(import.meta.dirname, '../..');
const inspection = join(root, 'lib/rules/examples/sound-five-piece.json');
const [, quillmoor] = bundledTables;
if (quillmoor === undefined) throw new Error('no demonstration table');

let folder = '';
const file = (name: string) => join(folder, name);
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rimbook-tables-'));
  writeFileSync(file('quillmoor.csv'), tableToCsv(quillmoor));
  writeFileSync(file('quillmoor.json'), JSON.stringify(quillmoor));
  writeFileSync(file('wrong.csv'), csvOf(tableLine, { ...limitLine, unit: '' }, { ...defectLine, says: '' }));
  writeFileSync(file('doubtful.csv'), csvOf(tableLine, { ...limitLine, 'source kind': 'published' }));
  writeFileSync(file('latin.csv'), Buffer.from('type;name\ntable;H\xf6he', 'latin1'));
});
afterAll(() => rmSync(folder, { recursive: true }));
afterEach(() => vi.restoreAllMocks());

/** Exit code and output of a command, run in this process. */
function outcome(command: (args: string[]) => number, ...args: string[]) {
  const told = { out: '', err: '' };
  vi.spyOn(console, 'log').mockImplementation((line) => {
    told.out += `${line}\n`;
  });
  vi.spyOn(console, 'error').mockImplementation((line) => {
    told.err += `${line}\n`;
  });
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    told.out += String(text);
    return true;
  });
  const code = command(args);
  vi.restoreAllMocks();
  return { code, ...told };
}

describe('convert-table', () => {
  test('prints JSON as CSV and CSV as JSON, with the same content', () => {
    const csv = outcome(convertTable, file('quillmoor.json'));
    expect([csv.code, csv.err]).toEqual([0, '']);
    const read = tableFromCsv(csv.out);
    expect(read.ok && tableHash(read.value.table)).toBe(tableHash(quillmoor));
    const json = outcome(convertTable, file('quillmoor.csv'));
    expect([json.code, json.err]).toEqual([0, '']);
    expect(JSON.parse(json.out)).toEqual(quillmoor);
  });

  test('prints the form asked for, the same one too', () => {
    expect(outcome(convertTable, file('quillmoor.csv'), '--to', 'csv').out).toBe(
      readFileSync(file('quillmoor.csv'), 'utf8'),
    );
    expect(JSON.parse(outcome(convertTable, file('quillmoor.json'), '--to', 'json').out)).toEqual(quillmoor);
  });

  test('refuses a form that it does not know, and anything but one file', () => {
    expect(outcome(convertTable, file('quillmoor.csv'), '--to', 'pdf')).toEqual({
      code: 2,
      out: '',
      err: '--to: A table is not written in this form (received pdf). Use --to csv or --to json.\n',
    });
    expect(outcome(convertTable)).toEqual({
      code: 2,
      out: '',
      err: 'FILE: convert-table takes one file (received an empty value). Run: npm run -s rimbook -- convert-table FILE\n',
    });
  });

  test('tells every problem of a file that cannot be read, and prints nothing else', () => {
    const path = file('wrong.csv');
    expect(outcome(convertTable, path)).toEqual({
      code: 2,
      out: '',
      err: [
        `${path}: line 3, unit: The unit of keep min is not given (received an empty value). Write mm or in.\n`,
        `${path}: line 4, says: A line of type defect needs this cell (received an empty value). Fill in the cell, or correct the type of the line.\n`,
      ].join(''),
    });
  });

  test('takes no file that is not there, or that is not UTF-8', () => {
    const missing = outcome(convertTable, file('missing.csv'));
    expect(missing.code).toBe(2);
    expect(missing.err).toMatch(
      /^FILE: The file cannot be read: ENOENT.*Give the path of a readable file\.\n$/,
    );
    const latin = outcome(convertTable, file('latin.csv'));
    expect(latin.code).toBe(2);
    expect(latin.err).toMatch(
      /^FILE: The file is not text in UTF-8: .*Save it as UTF-8 text and try again\.\n$/,
    );
  });

  test('is a command of the program', () => {
    const run = spawnSync(process.execPath, ['tools/rimbook.ts', 'convert-table', file('quillmoor.csv')], {
      cwd: root,
      encoding: 'utf8',
    });
    expect(run.status).toBe(0);
    expect(JSON.parse(run.stdout)).toEqual(quillmoor);
  });
});

describe('commands that take a table take it as CSV too', () => {
  test('assess gives the same verdict', () => {
    const of = (name: string) => outcome(assess, inspection, '--table', file(name), '--json');
    expect(of('quillmoor.csv').code).toBe(0);
    expect(JSON.parse(of('quillmoor.csv').out)).toEqual(JSON.parse(of('quillmoor.json').out));
  });

  test('replay finds the table of a verdict by its content', () => {
    const table = { ...quillmoor, edition: 'another' };
    writeFileSync(file('another.csv'), tableToCsv(table));
    const verdict = outcome(assess, inspection, '--table', file('another.csv'), '--json').out;
    writeFileSync(file('verdict.json'), verdict);
    expect(outcome(replay, file('verdict.json')).code).toBe(2);
    const again = outcome(replay, file('verdict.json'), '--table', file('another.csv'));
    expect([again.code, again.err]).toEqual([0, '']);
    expect(again.out).toMatch(/^The same, byte for byte/);
  });

  test.each<[string, (verdict: Record<string, unknown>) => unknown, string]>([
    ['without its parts', ({ parts: _, ...rest }) => rest, 'parts: The parts are not listed'],
    ['with a table that is none', (verdict) => ({ ...verdict, tables: [null] }), 'tables.0: '],
    ['with a part that is none', (verdict) => ({ ...verdict, parts: [null] }), 'parts.0: '],
    ['without its assembly', ({ assembly: _, ...rest }) => rest, 'assembly: The answer for the assembly'],
    ['without its engine', ({ engine: _, ...rest }) => rest, 'engine: The engine is not named'],
    ['that is none', () => null, ''],
  ])('replay takes no verdict %s', (_name, change, says) => {
    const verdict = JSON.parse(outcome(assess, inspection, '--json').out);
    writeFileSync(file('bad.json'), JSON.stringify(change(verdict)));
    const { code, out, err } = outcome(replay, file('bad.json'));
    expect([code, out]).toEqual([2, '']);
    expect(err.startsWith(says)).toBe(true);
    expect(err).toContain('Give a verdict as assess --json prints it.');
  });

  test('an option without a command is bad input, and help is not', () => {
    const rimbook = (...args: string[]) =>
      spawnSync(process.execPath, ['tools/rimbook.ts', ...args], { cwd: root, encoding: 'utf8' });
    const bad = rimbook('--json');
    expect(bad.status).toBe(2);
    expect(bad.stderr).toMatch(/^command: there is no command "--json"\./);
    expect(rimbook('--help')).toMatchObject({ status: 0, stderr: '' });
  });

  test('lint-table names line and column', () => {
    const found = outcome(lintTableCommand, file('doubtful.csv'));
    expect(found.code).toBe(0);
    expect(found.out).toMatch(/^1 row, 0 errors, \d+ warnings?\.$/m);
    expect(found.out).toContain('warning source: line 3, source section (a limit): A published source');
    const listed = JSON.parse(outcome(lintTableCommand, file('doubtful.csv'), '--json').out);
    expect(listed[0]).toMatchObject({ field: 'rows.0.source.section', place: 'line 3, source section' });
  });

  test.each([
    ['assess', () => outcome(assess, inspection, '--table', file('wrong.csv'))],
    ['lint-table', () => outcome(lintTableCommand, file('wrong.csv'))],
  ])('%s tells the problems of the file and gives no answer', (_, run) => {
    const { code, out, err } = run();
    expect([code, out]).toEqual([2, '']);
    expect(err.split('\n')).toHaveLength(3);
  });
});
