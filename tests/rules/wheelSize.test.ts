import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { evaluate } from '../../lib/rules/index.ts';
import { type Table, tablesNamed } from '../../lib/tolerances/index.ts';
import { depthLimit, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const LARGE = { min: 51, max: 63 };
const depth = (over: object = {}) => depthLimit({ keep: { min: 13 }, repair: null, ...over });
const match = (over: object = {}) => ({
  row: 'match',
  type: 'match',
  between: ['lock ring', 'rim base'],
  pairs: [
    [
      { maker: 'Quillmoor Rimworks', series: 'QX' },
      { maker: 'Quillmoor Rimworks', series: 'QX' },
    ],
  ],
  together: 'may not',
  says: 'Not on large rims.',
  source: testSource,
  ...over,
});

function judged(designation: string, own: Table, over: object = {}) {
  const evidence = soundEvidence();
  const verdict = evaluate({ ...evidence, wheel: { ...evidence.wheel, designation, ...over } }, [
    ...demonstration,
    own,
  ]);
  const of = (slot: string) =>
    must(
      verdict.parts.find((one) => one.slot === slot),
      slot,
    );
  const texts = of('rim base').missing.map((one) => one.text);
  return { base: of('rim base').result, ring: of('lock ring').result, texts, assembly: verdict.assembly };
}

/** No row with a size may be escaped by a size that nobody can read: our own specification, no source. */
describe('a size designation that is not understood', () => {
  const scoped = tableOf([depth()], { scope: { diameterCodes: LARGE } });
  const byRow = tableOf([depth({ diameterCodes: LARGE })]);

  test.each([
    ['a row', byRow],
    ['the scope of a table', scoped],
  ])('holds the parts that %s with sizes speaks of', (_what, table) => {
    expect(judged('51-40.00/4.5', table).base).toBe('scrap');
    expect(judged('25-22.00/3.0', table)).toMatchObject({ base: 'keep', texts: [] });
    expect(judged('51+40.00/4.5', table)).toMatchObject({
      base: 'hold',
      ring: 'keep',
      texts: [
        'The size designation "51+40.00/4.5" is not understood, and rows of “Test table” depend on it. Write it as stamped, such as 25-22.00/3.0.',
      ],
    });
    expect(judged(' ', table).texts).toEqual([
      expect.stringMatching(/^No size designation is recorded, and/),
    ]);
    expect(judged('44.00/5.0', table).texts).toEqual([
      expect.stringMatching(/^The size designation "44\.00\/5\.0" names no rim diameter, and/),
    ]);
  });

  test.each(['-', '−', '–', '—', '‑', '‐'])('a diameter before "%s" is read', (dash) => {
    expect(judged(`51${dash}40.00/4.5`, byRow).base).toBe('scrap');
  });

  test('does not matter where no row asks for the size, nor one of a table that does not apply otherwise', () => {
    const size = { diameterCodes: LARGE };
    for (const table of [
      tableOf([depth({ keep: { min: 5 } })]),
      tableOf([depth(size)], { effectiveFrom: '2026-11-03' }),
      tableOf([depth(size)], { scope: { makers: ['Somebody else'] } }),
      tableOf([depth({ ...size, components: ['lock ring'] })]),
      tableOf([match()], { effectiveUntil: '2020-01-01', scope: size }),
    ])
      expect(judged('', table)).toMatchObject({ base: 'keep', texts: [] });
  });

  test.each([
    ['a match row', tableOf([match({ diameterCodes: LARGE })])],
    ['the scope of a table with match rows', tableOf([match()], { scope: { diameterCodes: LARGE } })],
  ])('counts against fit where %s has sizes', (_what, table) => {
    expect(judged('25-22.00/3.0', table).assembly).toMatchObject({ fit: true, reasons: [] });
    expect(judged('51-40.00/4.5', table).assembly.fit).toBe(false);
    expect(judged('', table)).toMatchObject({
      base: 'keep',
      assembly: {
        fit: false,
        reasons: [
          'No size designation is recorded, and which parts may go together depends on it by a table.',
        ],
      },
    });
  });
});
