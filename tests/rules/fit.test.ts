import { describe, expect, test } from 'vitest';
import { pairsOf } from '../../lib/rules/fit.ts';
import { type Evidence, evaluate } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { constructionOf } from '../../lib/wheel/index.ts';
import { part, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const FEDERAL = '29 CFR 1910.177(e)(1), federal wording from memory';

function assembly(change: (evidence: Evidence) => void = () => {}, ...rows: object[]) {
  const evidence = soundEvidence();
  change(evidence);
  const tables = rows.length === 0 ? demonstration : [...demonstration, tableOf(rows)];
  return evaluate(evidence, tables).assembly;
}
const made = (slot: string, over: object) => (e: Evidence) => Object.assign(part(e, slot), over);

describe('parts that bear on each other', () => {
  // Which part carries which: trade vocabulary of multi-piece rims, no source.
  test.each([
    [
      'three-piece',
      [
        ['side flange', 'rim base'],
        ['lock ring', 'rim base'],
      ],
    ],
    [
      'five-piece',
      [
        ['back side flange', 'rim base'],
        ['gutter side flange', 'bead seat band'],
        ['bead seat band', 'rim base'],
        ['lock ring', 'rim base'],
      ],
    ],
  ] as const)('%s', (construction, pairs) => {
    expect(pairsOf(constructionOf(construction)).map(([a, b]) => [a.slot, b.slot])).toEqual(pairs);
  });

  test('in a double-gutter seven-piece rim each flange bears on the band of its own side', () => {
    const pairs = pairsOf(constructionOf('double-gutter seven-piece'));
    const flanges = pairs.filter(([a]) => a.kind === 'side flange');
    expect(flanges).toHaveLength(2);
    for (const [flange, band] of flanges)
      expect([band.kind, band.side]).toEqual(['bead seat band', flange.side]);
    expect(pairs.filter(([a]) => a.kind !== 'side flange').map(([, b]) => b.slot)).toEqual(
      pairs.filter(([a]) => a.kind !== 'side flange').map(() => 'rim base'),
    );
  });

  test('the O-ring bears on nothing, and without a base there are no pairs', () => {
    const construction = constructionOf('five-piece');
    expect(
      pairsOf(construction)
        .flat()
        .some((slot) => slot.kind === 'O-ring'),
    ).toBe(false);
    const slots = construction.slots.filter((slot) => slot.kind !== 'rim base');
    expect(pairsOf({ ...construction, slots })).toEqual([]);
  });
});

describe('29 CFR 1910.177(e)(1): parts are not interchanged unless they match', () => {
  const ringAndBase = (...given: Parameters<typeof assembly>) =>
    assembly(...given).pairs.find(({ slots }) => slots[0] === 'lock ring');
  const slots = ['lock ring', 'rim base'];

  test('parts of one maker and series match, however their letters are written', () => {
    expect(ringAndBase()).toEqual({ slots, matches: true, why: 'both Quillmoor Rimworks, series QX' });
    for (const slot of slots)
      expect(ringAndBase(made(slot, { maker: ' quillmoor RIMWORKS', series: 'qx ' }))?.matches).toBe(true);
  });

  test.each([
    ['another maker', { maker: 'Harrowfield Forge' }, 'lock ring is Harrowfield Forge QX'],
    ['another series', { series: 'QY' }, 'lock ring is Quillmoor Rimworks QY'],
  ])('%s does not', (_name, over, is) => {
    expect(ringAndBase(made('lock ring', over))).toEqual({
      slots,
      matches: false,
      why: `${is}, rim base is Quillmoor Rimworks QX: not interchanged unless the maker's chart says so (${FEDERAL})`,
    });
  });

  test.each([
    ['the maker of the one', made('lock ring', { maker: ' ' })],
    ['the series of the one', made('lock ring', { series: '' })],
    ['the maker of the other', made('rim base', { maker: '' })],
    ['the series of the other', made('rim base', { series: ' ' })],
    [
      'the one at all',
      (e: Evidence) => {
        e.parts = e.parts.filter((one) => one.slot !== 'lock ring');
      },
    ],
    [
      'the other at all',
      (e: Evidence) => {
        e.parts = e.parts.filter((one) => one.slot !== 'rim base');
      },
    ],
  ])('where nobody knows %s they are not shown to match', (_name, change) => {
    expect(ringAndBase(change)).toEqual({
      slots,
      matches: false,
      why: `maker or series of lock ring or rim base is not known, so they are not shown to match (${FEDERAL})`,
    });
  });

  const ring = { maker: 'Harrowfield Forge', series: 'HF-3' };
  const base = { maker: 'Quillmoor Rimworks', series: 'QX' };
  const row = (over: object) => ({
    row: 'r',
    type: 'match',
    between: ['lock ring', 'rim base'],
    pairs: [[ring, base]],
    together: 'may',
    says: 'The ring suits this gutter',
    source: testSource,
    ...over,
  });
  const foreign = made('lock ring', ring);
  const cited = (name: string) => expect.objectContaining({ table: 'test table', edition: '1', row: name });

  test('a row for the pair is cited, and all rows for it are', () => {
    expect(ringAndBase(foreign, row({}), row({ row: 's', says: 'It fits' }))).toEqual({
      slots,
      matches: true,
      why: 'The ring suits this gutter (Test, demonstration); It fits (Test, demonstration)',
      rules: [cited('r'), cited('s')],
    });
  });

  test('a row against it is cited alone', () => {
    const against = row({ row: 's', together: 'may not', says: 'It slips' });
    expect(ringAndBase(foreign, row({}), against)).toEqual({
      slots,
      matches: false,
      why: 'It slips (Test, demonstration)',
      rules: [cited('s')],
    });
  });

  test.each([
    ['in the other order', { between: ['rim base', 'lock ring'], pairs: [[base, ring]] }, true],
    [
      'for any series of the maker',
      {
        pairs: [
          [
            { ...ring, series: '' },
            { ...base, series: '' },
          ],
        ],
      },
      true,
    ],
    [
      'among several pairs',
      {
        pairs: [
          [base, base],
          [ring, base],
        ],
      },
      true,
    ],
    ['of other kinds', { between: ['lock ring', 'side flange'] }, false],
    ['of another first kind', { between: ['bead seat band', 'rim base'] }, false],
    ['the wrong way round', { pairs: [[base, ring]] }, false],
    ['for another series of the first', { pairs: [[{ ...ring, series: 'HF-4' }, base]] }, false],
    ['for another maker of the first', { pairs: [[{ ...ring, maker: 'Other' }, base]] }, false],
    ['for another series of the second', { pairs: [[ring, { ...base, series: 'QY' }]] }, false],
    ['for sizes of other wheels', { diameterCodes: { min: 49, max: 63 } }, false],
    ['for sizes of this wheel', { diameterCodes: { min: 25, max: 25 } }, true],
  ])('a row %s', (_name, over, matches) => {
    expect(ringAndBase(foreign, row(over))?.matches).toBe(matches);
  });
});

test('a row counts on the last day of its table, and not after', () => {
  const { maker } = part(soundEvidence(), 'lock ring');
  const own = { maker, series: '' };
  const row = {
    row: 'r',
    type: 'match',
    between: ['lock ring', 'rim base'],
    pairs: [[own, own]],
    together: 'may not',
    says: 'x',
    source: testSource,
  };
  // Decided on 2026-11-02.
  const matches = (effectiveUntil: string) =>
    evaluate(soundEvidence(), [tableOf([row], { effectiveUntil })]).assembly.pairs.every(
      (one) => one.matches,
    );
  expect([matches('2026-11-02'), matches('2026-11-01')]).toEqual([false, true]);
});

test('a row for some sizes says nothing of a wheel whose size is not understood', () => {
  const pairs = [
    [
      { maker: 'Quillmoor Rimworks', series: '' },
      { maker: 'Quillmoor Rimworks', series: '' },
    ],
  ];
  const row = {
    row: 'r',
    type: 'match',
    between: ['lock ring', 'rim base'],
    diameterCodes: { min: 1, max: 99 },
    pairs,
    together: 'may not',
    says: 'x',
    source: testSource,
  };
  const matches = (designation: string) =>
    assembly((e) => Object.assign(e.wheel, { designation }), row).pairs.map((one) => one.matches);
  expect(matches('25-22.00/3.0')).toContain(false);
  expect(matches('unreadable')).not.toContain(false);
});
