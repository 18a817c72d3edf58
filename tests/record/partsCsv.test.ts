import { describe, expect, test } from 'vitest';
import {
  type ComponentState,
  foldRegister,
  kinds,
  partsAsCsv,
  readPartsCsv,
} from '../../lib/record/index.ts';
import { BASE, entry, RING, STAMPS } from '../support/entries.ts';

const described = (id: string, over: Record<string, unknown>) =>
  entry(kinds.componentDescribed, id, {
    componentKind: 'rim base',
    maker: 'Quillmoor Rimworks',
    series: 'QX',
    stamp: 'QX 1',
    ...STAMPS,
    serial: 'S-1',
    ...over,
  });
const known: ReadonlyMap<string, ComponentState> = foldRegister([
  described(BASE, { made: { how: 'known', on: '2019-04' } }),
  described(RING, {
    componentKind: 'lock ring',
    serial: '=1+1',
    identity: 'cannot be identified',
    made: {
      how: 'estimated',
      notBefore: '2010',
      notAfter: '2015-06',
      basis: 'bought with the machine, "used"',
    },
  }),
]).components;
const HEAD = 'kind,maker,serial,made,made on,not before,not after,basis';
const read = (...lines: string[]) => readPartsCsv([HEAD, ...lines].join('\n'), known);
const first = (line: string) => {
  const file = read(line);
  return file.ok ? file.value.lines[0] : undefined;
};

describe('parts as CSV', () => {
  test('what is saved is brought in again as it is, formulas, quotes and commas included', () => {
    const csv = partsAsCsv([...known.values()]);
    expect(csv).toContain("'=1+1");
    const file = readPartsCsv(csv, known);
    expect(file.ok && file.value.lines.map(({ what, component }) => [what, component])).toEqual([
      ['as it is', BASE],
      ['as it is', RING],
    ]);
  });

  test('a line without id is the part of its kind, maker and serial number, or a new one', () => {
    expect(first('rim base,Quillmoor Rimworks,S-1,known,2020')).toMatchObject({
      what: 'changed',
      component: BASE,
    });
    expect(first('rim base,Quillmoor Rimworks,S-2,unknown')).toMatchObject({ what: 'new', component: null });
    expect(first('lock ring,Quillmoor Rimworks,S-1,unknown')).toMatchObject({ what: 'new' });
    expect(first('rim base,,,unknown')).toMatchObject({ what: 'new' });
  });

  test('what the file does not hold stays: a changed line keeps the photo of the stamps', () => {
    const photo = 'ab'.repeat(32);
    const withPhoto = foldRegister([described(BASE, { stampPhoto: photo })]).components;
    const file = readPartsCsv(`${HEAD}\nrim base,Quillmoor Rimworks,S-1,known,2020`, withPhoto);
    expect(file.ok && file.value.lines[0]?.body?.stampPhoto).toBe(photo);
  });

  const wrong: [name: string, line: string, field: string][] = [
    ['an age left blank', 'rim base,M,S-9,', 'made'],
    ['an age that is no word of it', 'rim base,M,S-9,perhaps', 'made'],
    ['a known age without a date', 'rim base,M,S-9,known', 'made on'],
    ['a date that is none', 'rim base,M,S-9,known,April 2019', 'made on'],
    ['an estimate without its basis', 'rim base,M,S-9,estimated,,2010,2012,', 'basis'],
    ['an unknown kind', 'hub cap,M,S-9,unknown', 'kind'],
    ['a maker too long', `rim base,${'m'.repeat(81)},S-9,unknown`, 'maker'],
  ];
  test.each(wrong)('%s is told at its column, and the line brings nothing in', (_name, line, field) => {
    expect(first(line)).toMatchObject({ line: 2, what: 'wrong', body: null, problems: [{ field }] });
  });

  test('two lines about one part are both wrong', () => {
    const line = 'rim base,Quillmoor Rimworks,S-1,unknown';
    const file = read(line, line);
    expect(file.ok && file.value.lines.map(({ what }) => what)).toEqual(['wrong', 'wrong']);
  });

  test('a serial number that two parts have does not say which is meant', () => {
    const two = foldRegister([described(BASE, {}), described(RING, {})]).components;
    const file = readPartsCsv(`${HEAD}\nrim base,Quillmoor Rimworks,S-1,unknown`, two);
    expect(file.ok && file.value.lines[0]?.problems[0]).toMatchObject({ code: 'part-several' });
  });

  test('a file with other columns, or none of the needed ones, is refused as a whole', () => {
    const file = readPartsCsv('kind,colour\nrim base,red', known);
    expect(!file.ok && file.error.map(({ field }) => field)).toEqual(['colour', 'made']);
    expect(readPartsCsv(HEAD, known)).toMatchObject({ ok: false, error: [{ code: 'parts-empty' }] });
  });

  test('semicolons, tabs and a byte order mark are read too', () => {
    const file = readPartsCsv('\uFEFFkind;made;made on\nrim base;known;2019', new Map());
    expect(file.ok && file.value.lines[0]?.body?.made).toEqual({ how: 'known', on: '2019' });
  });
});
