import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { rowText, scopeText } from '../../lib/rules/index.ts';
import { tableOf, testSource } from '../support/evidence.ts';

const says = (row: object, units?: 'metric' | 'imperial') => {
  const table = tableOf([{ row: 'r', source: testSource, ...row }]);
  return rowText(must(table.rows[0], 'row'), units);
};
const limit = (over: object) => ({
  type: 'limit',
  characteristic: 'gutter depth',
  keep: { min: 10.5 },
  repair: { min: 9 },
  methods: ['gauge'],
  ...over,
});
const nominal = { nominal: { value: 12.5, u: 0.1 } };

/** How a row reads to a person is our own specification, no source. */
describe('a limit in words', () => {
  test.each([
    [
      'of any component, repair by rework',
      limit({}),
      'Gutter depth of any component: keep at least 10.50 mm; repair (rework) at least 9.00 mm, beyond that scrap. Measured by gauge.',
    ],
    [
      'of one component and zone, repair by upkeep',
      limit({
        components: ['rim base'],
        zones: ['gutter groove'],
        repairNeeds: 'upkeep',
        methods: ['gauge', 'photo'],
      }),
      'Gutter depth of rim base, gutter groove: keep at least 10.50 mm; repair (upkeep only) at least 9.00 mm, beyond that scrap. Measured by gauge and photo.',
    ],
    [
      'of several components and diameter codes, without repair',
      limit({
        characteristic: 'bead seat wear',
        components: ['rim base', 'side flange', 'bead seat band'],
        zones: ['bead seat', 'back bead seat'],
        diameterCodes: { min: 25, max: 35 },
        keep: { max: 1.2 },
        repair: null,
      }),
      'Bead seat wear of rim base, side flange and bead seat band, bead seat and back bead seat, diameter codes 25 to 35: keep at most 1.20 mm; beyond that scrap. Measured by gauge.',
    ],
    [
      'of one diameter code and some states',
      limit({
        characteristic: 'lock-ring gap',
        states: ['free', 'fitted'],
        diameterCodes: { min: 25, max: 25 },
        keep: { min: 4, max: 16 },
        repair: null,
      }),
      'Lock-ring end gap (free and fitted) of any component, diameter code 25: keep 4.00 mm to 16.00 mm; beyond that scrap. Measured by gauge.',
    ],
    [
      'counted from the new size',
      limit({ boundsOf: 'from nominal', keep: { min: -2, max: 1 }, repair: { min: -3 }, ...nominal }),
      'Gutter depth of any component: keep −2.00 mm to 1.00 mm; repair (rework) at least −3.00 mm, beyond that scrap, from the new size of 12.50 mm. Measured by gauge.',
    ],
    [
      'in percent lost, at most',
      limit({ boundsOf: 'percent lost', keep: { max: 10 }, repair: { max: 20 }, ...nominal }),
      'Gutter depth of any component: keep at most 10.0 %; repair (rework) at most 20.0 %, beyond that scrap, lost of the new size of 12.50 mm. Measured by gauge.',
    ],
    [
      'in percent lost, at least and between',
      limit({ boundsOf: 'percent lost', keep: { min: -4, max: 10 }, repair: { min: -5.5 }, ...nominal }),
      'Gutter depth of any component: keep −4.0 % to 10.0 %; repair (rework) at least −5.5 %, beyond that scrap, lost of the new size of 12.50 mm. Measured by gauge.',
    ],
    [
      'of the value itself, though a new size is given',
      limit({ boundsOf: 'value', ...nominal }),
      'Gutter depth of any component: keep at least 10.50 mm; repair (rework) at least 9.00 mm, beyond that scrap. Measured by gauge.',
    ],
    [
      'of the value, where nothing is said of how it is counted',
      limit(nominal),
      'Gutter depth of any component: keep at least 10.50 mm; repair (rework) at least 9.00 mm, beyond that scrap. Measured by gauge.',
    ],
  ])('%s', (_name, row, sentence) => {
    expect(says(row)).toBe(sentence);
  });

  test('in inches where they are preferred: 1 in = 25.4 mm', () => {
    const row = limit({
      boundsOf: 'from nominal',
      nominal: { value: 25.4 },
      keep: { min: -2.54 },
      repair: null,
    });
    expect(says(row, 'imperial')).toBe(
      'Gutter depth of any component: keep at least −0.1000 in; beyond that scrap, from the new size of 1.0000 in. Measured by gauge.',
    );
  });
});

describe('other rows in words', () => {
  const defect = (over: object) => ({
    type: 'defect',
    defects: ['crack'],
    verdict: 'repair',
    says: 'A short crack may be welded.',
    ...over,
  });
  const age = (over: object) => ({
    type: 'age',
    components: ['lock ring'],
    beyond: 'scrap',
    unknown: 'hold',
    says: 'It tires.',
    ...over,
  });
  const ring = { maker: 'Harrowfield Forge', series: 'HF-3' };
  const base = { maker: 'Quillmoor Rimworks', series: '' };
  const rows: [row: object, sentence: string][] = [
    [defect({ verdict: 'scrap' }), 'crack, any component: scrap. A short crack may be welded.'],
    [
      defect({ defects: ['crack', 'pitting'], components: ['rim base'], zones: ['gutter weld'] }),
      'crack and pitting, rim base, gutter weld: repair (rework). A short crack may be welded.',
    ],
    [
      defect({ repairUpToMm: 60, repairNeeds: 'upkeep' }),
      'crack, any component: repair (upkeep only) up to 60.00 mm, larger scrap. A short crack may be welded.',
    ],
    [
      defect({ repairUpToMm2: 4000 }),
      'crack, any component: repair (rework) up to 40.0 cm², larger scrap. A short crack may be welded.',
    ],
    [
      defect({ repairUpToMm: 60, repairUpToMm2: 4000 }),
      'crack, any component: repair (rework) up to 60.00 mm and 40.0 cm², larger scrap. A short crack may be welded.',
    ],
    [
      { type: 'no rework', components: ['rim base', 'lock ring'], says: 'No heat.' },
      'No rework, rim base and lock ring. No heat.',
    ],
    [
      { type: 'test', components: ['rim base'], methods: ['magnetic particle'], withinMonths: 12 },
      'magnetic particle test of rim base within 12 months.',
    ],
    [
      { type: 'test', methods: ['magnetic particle', 'penetrant'], withinHours: 5000 },
      'magnetic particle and penetrant test of any component within 5000 h on duty.',
    ],
    [
      { type: 'test', methods: ['ultrasonic'], withinMonths: 6, withinHours: 5000 },
      'ultrasonic test of any component within 6 months and 5000 h on duty.',
    ],
    [
      age({ upToYears: 10 }),
      'Age of lock ring: up to 10 years, beyond that scrap; not known: hold. It tires.',
    ],
    [
      age({ upToYears: 10, upToHours: 20000, beyond: 'repair', unknown: 'scrap' }),
      'Age of lock ring: up to 10 years or 20000 h on duty, beyond that repair (rework); not known: scrap. It tires.',
    ],
    [
      {
        type: 'match',
        between: ['lock ring', 'rim base'],
        pairs: [[ring, base]],
        together: 'may',
        says: 'Suits.',
      },
      'lock ring and rim base may go together: Harrowfield Forge HF-3 with any Quillmoor Rimworks. Suits.',
    ],
    [
      {
        type: 'match',
        between: ['lock ring', 'rim base'],
        diameterCodes: { min: 25, max: 35 },
        pairs: [
          [ring, base],
          [ring, ring],
        ],
        together: 'may not',
        says: 'Slips.',
      },
      'lock ring and rim base, diameter codes 25 to 35 may not go together: Harrowfield Forge HF-3 with any Quillmoor Rimworks; Harrowfield Forge HF-3 with Harrowfield Forge HF-3. Slips.',
    ],
    [
      { type: 'evidence', zones: ['valve slot'], ask: { what: 'photo' } },
      'A photo of any component, valve slot is asked for.',
    ],
    [
      {
        type: 'evidence',
        components: ['rim base'],
        ask: { what: 'reading', characteristic: 'gutter depth', positions: [12, 4, 8], repeats: 3 },
      },
      'Gutter depth of rim base is asked for 3 times at 12, 4 and 8 o’clock.',
    ],
    [
      {
        type: 'evidence',
        components: ['lock ring'],
        ask: { what: 'reading', characteristic: 'lock-ring gap', positions: [], repeats: 1, state: 'fitted' },
      },
      'Lock-ring end gap (fitted) of lock ring is asked for once.',
    ],
  ];
  test.each(rows.map(([row, sentence]) => [sentence, row] as const))('“%s”', (sentence, row) => {
    expect(says(row)).toBe(sentence);
  });

  test('sizes up to which repair is open in inches: 1 in = 25.4 mm', () => {
    expect(says(defect({ repairUpToMm: 50.8, repairUpToMm2: 1290.32 }), 'imperial')).toBe(
      'crack, any component: repair (rework) up to 2.0000 in and 2.00 in², larger scrap. A short crack may be welded.',
    );
  });
});

describe('which parts a table speaks of, and from when', () => {
  const scope = (over: object, more: object = {}) =>
    scopeText(
      tableOf([{ row: 'r', type: 'no rework', says: 'No.', source: testSource }], { scope: over, ...more }),
    );

  test('any part, until withdrawn', () => {
    expect(scope({})).toBe('any maker; any construction; any component; from 2000-01-01');
  });

  test('all that it can be limited to', () => {
    expect(
      scope(
        {
          makers: ['Quillmoor Rimworks', 'Harrowfield Forge'],
          series: ['QX', 'HF-3'],
          constructions: ['five-piece'],
          components: ['rim base', 'lock ring'],
          diameterCodes: { min: 25, max: 35 },
        },
        { effectiveUntil: '2030-12-31' },
      ),
    ).toBe(
      'Quillmoor Rimworks and Harrowfield Forge; series QX and HF-3; five-piece, diameter codes 25 to 35; rim base and lock ring; from 2000-01-01 to 2030-12-31',
    );
  });
});
