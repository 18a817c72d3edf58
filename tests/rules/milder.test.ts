import { describe, expect, test } from 'vitest';
import { findWorseButMilder } from '../../lib/rules/index.ts';
import { depthLimit, tableOf, testSource } from '../support/evidence.ts';

const row = (over: object) => depthLimit({ row: 'r', ...over });
const found = (rows: object[], over: object = {}) => findWorseButMilder(tableOf(rows, over));
const told = (...given: Parameters<typeof found>) => found(...given).map((one) => one.message);

/** Which way is worse: what each characteristic measures (lib/readings). The search itself is our own specification. */
describe('a worse reading with a milder verdict', () => {
  const gap = { components: ['lock ring'], characteristic: 'lock-ring gap', repair: null };

  test.each([
    ['a groove that wears shallow, bounded below', row({})],
    [
      'a wear that grows, bounded above',
      row({
        components: ['side flange'],
        characteristic: 'flange wear',
        keep: { max: 2 },
        repair: { max: 3 },
      }),
    ],
    ['a gap that is bad both ways, bounded on both sides', row({ ...gap, keep: { min: 4, max: 16 } })],
    [
      'a gap with repair on both sides',
      row({ ...gap, keep: { min: 4, max: 16 }, repair: { min: 2, max: 20 } }),
    ],
    [
      'bounds counted from the new size',
      row({ boundsOf: 'percent lost', nominal: { value: 12 }, keep: { max: 10 }, repair: { max: 20 } }),
    ],
  ])('there is none for %s', (_name, limit) => {
    expect(found([limit])).toEqual([]);
  });

  test('a groove bounded above: the deeper one is the better one, and gets the worse verdict', () => {
    expect(found([row({ keep: { max: 10 }, repair: { max: 12 } })])).toEqual([
      {
        lint: 'worse is milder',
        severity: 'error',
        rows: ['r'],
        field: 'rows.0',
        message: expect.stringMatching(
          /^Gutter depth, gutter groove: \d+\.\d\d mm gets a milder verdict than \d+\.\d\d mm, though it is worse$/,
        ),
        wayOut: 'A lower value is worse here: check which bounds are min and which are max.',
      },
    ]);
  });

  test('the values named lie on either side of a bound, the worse one first', () => {
    const [deep] = told([row({ keep: { max: 10 }, repair: null })]);
    const [, bad, good] = /: ([\d.]+) mm .* than ([\d.]+) mm/.exec(deep ?? '') ?? [];
    // Lower is worse: the bad one is the lower of the two, and kept up to 10 mm.
    expect(Number(bad)).toBeLessThanOrEqual(10);
    expect(Number(good)).toBeGreaterThan(10);
    expect(Number(good) - Number(bad)).toBeLessThan(0.05);
    const [worn] = told([
      row({ components: ['side flange'], characteristic: 'flange wear', keep: { min: 2 }, repair: null }),
    ]);
    const [, high, low] = /: ([\d.]+) mm .* than ([\d.]+) mm/.exec(worn ?? '') ?? [];
    // Higher is worse: 2 mm of wear would be kept and a little less would not.
    expect(Number(high)).toBeGreaterThanOrEqual(2);
    expect(Number(low)).toBeLessThan(2);
    expect(Number(high) - Number(low)).toBeLessThan(0.05);
  });

  test('a wear bounded below says that a higher value is worse', () => {
    const wear = {
      components: ['side flange'],
      characteristic: 'flange wear',
      keep: { min: 2 },
      repair: null,
    };
    expect(found([row(wear)])[0]?.wayOut).toBe(
      'A higher value is worse here: check which bounds are min and which are max.',
    );
  });

  test('a gap bounded on one side rises once and stays', () => {
    expect(found([row({ ...gap, keep: { max: 16 } })])).toEqual([]);
    expect(found([row({ ...gap, keep: { min: 4 } })])).toEqual([]);
  });

  test('is told once, at the first place, also where two rows say the same', () => {
    const limit = row({
      components: ['rim base', 'bead seat band'],
      characteristic: 'bead seat wear',
      keep: { min: 1 },
      repair: null,
    });
    expect(told([limit])).toEqual([expect.stringMatching(/^Bead seat wear, back bead seat: /)]);
    expect(told([limit, { ...limit, row: 's' }])).toEqual(told([limit]));
  });

  test('is told of each characteristic and each state', () => {
    const wrong = [
      row({ keep: { max: 10 }, repair: null }),
      row({
        row: 's',
        components: ['side flange'],
        characteristic: 'flange wear',
        keep: { min: 2 },
        repair: null,
      }),
    ];
    expect(found(wrong).map((one) => [one.rows.join(), one.field])).toEqual([
      ['r', 'rows.0'],
      ['s', 'rows.1'],
    ]);
  });

  test('about a bound of repair too', () => {
    const wear = { components: ['side flange'], characteristic: 'flange wear' };
    // The range that is plausible is 15 mm wide; a thousandth of it is tried on either side of a bound.
    expect(told([row({ ...wear, keep: { min: 2 }, repair: { min: 1 } })])).toEqual([
      'Flange wear, flange contact face: 1.00 mm gets a milder verdict than 0.99 mm, though it is worse',
    ]);
  });

  test('is found with readings by the methods of the row, in the zones of the row', () => {
    const area = { characteristic: 'corrosion area', methods: ['photo'], zones: ['centre band'] };
    expect(told([row({ ...area, keep: { min: 4000 }, repair: null })])).toEqual([
      expect.stringMatching(/^Corrosion area, centre band: 40\.0 cm² gets/),
    ]);
    const other = row({ row: 's', ...area, zones: ['gutter lip'], keep: { max: 4000 }, repair: null });
    expect(told([row({ ...area, keep: { max: 4000 }, repair: null }), other])).toEqual([]);
  });

  test('is told of the row that is too severe to the better reading, and not of one beside it', () => {
    const wear = { characteristic: 'bead seat wear', repair: null };
    const upper = row({ ...wear, components: ['rim base', 'bead seat band'], keep: { max: 2 } });
    const lower = row({ ...wear, row: 's', components: ['bead seat band'], keep: { min: 1 } });
    const of = (...rows: object[]) =>
      found(rows).map((one) => [one.rows.join(), one.field, one.message.split(':')[0]]);
    expect(of(upper, lower)).toEqual([['s', 'rows.1', 'Bead seat wear, bead seat']]);
    expect(of(lower, upper)).toEqual([['s', 'rows.0', 'Bead seat wear, bead seat']]);
    expect(of(upper)).toEqual([]);
  });

  test('rows of other types, and limits that speak of no place, are passed over', () => {
    expect(found([{ row: 'n', type: 'no rework', says: 'x', source: testSource }])).toEqual([]);
    expect(found([row({ zones: ['valve slot'], keep: { max: 10 }, repair: null })])).toEqual([]);
  });

  test('a table for some makers and constructions is tried on a part that it speaks of', () => {
    const limit = row({ keep: { max: 10 }, repair: null });
    const scope = { makers: ['Quillmoor Rimworks'], series: ['QX'], constructions: ['three-piece'] };
    expect(told([limit], { scope })).toHaveLength(1);
    expect(told([limit], { scope, effectiveFrom: '2099-01-01' })).toHaveLength(1);
  });

  test('a rule against rework, under which repair is scrap, makes nothing milder', () => {
    expect(found([row({}), { row: 'ban', type: 'no rework', says: 'x', source: testSource }])).toEqual([]);
  });
});
