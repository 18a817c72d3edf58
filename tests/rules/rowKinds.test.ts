import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Evidence, evaluate, madeBetween, probabilityOlder } from '../../lib/rules/index.ts';
import type { Table } from '../../lib/tolerances/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { part, setAll, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;

function verdictOf(evidence: Evidence, slot: string, rows: object[]) {
  const tables = [...demonstration, tableOf(rows)];
  return must(
    evaluate(evidence, tables).parts.find((one) => one.slot === slot),
    slot,
  );
}

describe('bounds counted from the new part', () => {
  const row = (over: object) => ({
    row: 'depth lost',
    type: 'limit',
    components: ['rim base'],
    characteristic: 'gutter depth',
    methods: ['gauge'],
    source: testSource,
    ...over,
  });
  const percent = row({
    boundsOf: 'percent lost',
    nominal: { value: 12.5 },
    keep: { max: 10 },
    repair: { max: 20 },
  });
  const from = row({
    boundsOf: 'from nominal',
    nominal: { value: 12.5 },
    keep: { min: -1.25, max: 0.5 },
    repair: { min: -2.5, max: 1 },
  });
  test.each([
    [percent, 11.26, 'keep'],
    [percent, 11.25, 'keep'],
    [percent, 11.24, 'repair'],
    [percent, 10.01, 'repair'],
    [percent, 10.0, 'repair'],
    [percent, 9.99, 'scrap'],
    [from, 11.25, 'keep'],
    [from, 11.24, 'repair'],
    [from, 13.0, 'keep'],
    [from, 13.01, 'repair'],
    [from, 13.51, 'scrap'],
  ])('%o at %d mm: %s', (limit, value, expected) => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', value, 0);
    const finding = must(
      evaluate(evidence, [tableOf([limit])])
        .parts.find((one) => one.slot === 'rim base')
        ?.findings.find((one) => one.about === 'limit'),
      'finding',
    );
    expect(finding.class).toBe(expected);
    expect(finding.sentence).toMatch(/new size of 12\.50 mm/);
  });

  test('the uncertainty of the new size enters the decision: 10.5 mm against 10 mm from a nominal known to 0.5 mm', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 10.5, 0);
    const beyondWith = (u: number) => {
      const limit = row({
        boundsOf: 'from nominal',
        nominal: { value: 12.5, u },
        keep: { min: -2.5 },
        repair: null,
      });
      const finding = evaluate(evidence, [tableOf([limit])])
        .parts.find((one) => one.slot === 'rim base')
        ?.findings.find((one) => one.about === 'limit');
      return finding?.about === 'limit' ? finding.beyondKeep : Number.NaN;
    };
    expect(beyondWith(0)).toBe(0);
    // One standard deviation from the bound: 0.158655 (standard normal table).
    expect(beyondWith(0.5)).toBeCloseTo(0.158655, 5);
  });
});

describe('age and hours', () => {
  const age = (over: object = {}) => ({
    row: 'age',
    type: 'age',
    components: ['lock ring'],
    upToYears: 10,
    beyond: 'scrap',
    unknown: 'hold',
    says: 'A ring may serve ten years.',
    source: testSource,
    ...over,
  });
  function withMade(made: { from: string; to: string } | null, hours: number | null = null): Evidence {
    const evidence = { ...soundEvidence(), decidedAt: '2026-06-01T12:00:00.000Z' };
    Object.assign(part(evidence, 'lock ring'), {
      made,
      dutyHours: hours === null ? null : { value: hours, u: 0 },
    });
    return evidence;
  }
  const day = (date: string) => ({ from: date, to: date });

  test.each([
    ['2016-06-02', 'keep'],
    ['2016-06-01', 'keep'],
    ['2016-05-31', 'scrap'],
    ['2006-01-01', 'scrap'],
  ])('made on %s, ten years allowed on 2026-06-01: %s', (made, expected) => {
    expect(verdictOf(withMade(day(made)), 'lock ring', [age()]).result).toBe(expected);
  });

  test('a month or a year of making is a range, and the share of it beyond the limit is the probability', () => {
    expect(madeBetween('2016')).toEqual({ from: '2016-01-01', to: '2016-12-31' });
    expect(madeBetween('2016-02')).toEqual({ from: '2016-02-01', to: '2016-02-29' });
    expect(madeBetween('2016-02-03')).toEqual({ from: '2016-02-03', to: '2016-02-03' });
    expect(madeBetween(null)).toBeNull();
    const year = { from: '2016-01-01', to: '2016-12-31' };
    // 31 + 29 + 31 + 30 + 31 of the 366 days of 2016 lie before 1 June.
    expect(probabilityOlder(year, 10, '2026-06-01')).toBeCloseTo(152 / 366, 9);
    expect(probabilityOlder(year, 10, '2025-12-01')).toBe(0);
    expect(probabilityOlder(year, 10, '2027-12-31')).toBe(1);
    expect(verdictOf(withMade(year), 'lock ring', [age()]).result).toBe('scrap');
  });

  test('an unknown age is never a pass', () => {
    const held = verdictOf(withMade(null), 'lock ring', [age()]);
    expect(held.result).toBe('hold');
    expect(held.missing).toContainEqual(expect.objectContaining({ what: 'age' }));
    expect(verdictOf(withMade(null), 'lock ring', [age({ unknown: 'scrap' })]).result).toBe('scrap');
    expect(verdictOf(withMade(null), 'lock ring', [age({ unknown: 'repair' })]).result).toBe('repair');
  });

  test.each([
    [19999, 'keep'],
    [20000, 'keep'],
    [20001, 'repair'],
  ])('%d h on duty of 20 000: %s', (hours, expected) => {
    const rows = [age({ upToYears: undefined, upToHours: 20000, beyond: 'repair', repairNeeds: 'upkeep' })];
    expect(verdictOf(withMade(null, hours), 'lock ring', rows).result).toBe(expected);
  });

  test('hours unknown and years beyond: the year decides, the hours stay missing', () => {
    const verdict = verdictOf(withMade(day('2000-01-01')), 'lock ring', [age({ upToHours: 20000 })]);
    expect(verdict.result).toBe('scrap');
    expect(verdict.missing).toContainEqual(expect.objectContaining({ what: 'age' }));
  });

  test('the age of a part of another kind is not asked for', () => {
    expect(verdictOf(withMade(null), 'rim base', [age()]).result).toBe('keep');
  });
});

describe('which parts may go together', () => {
  const OTHER = { maker: 'Harrowfield Forge', series: 'HF-3' };
  const QUILLMOOR = { maker: 'Quillmoor Rimworks', series: '' };
  const match = (together: 'may' | 'may not', row = together as string) => ({
    row,
    type: 'match',
    between: ['lock ring', 'rim base'],
    pairs: [[OTHER, QUILLMOOR]],
    together,
    says: together === 'may' ? 'The ring suits this gutter.' : 'The ring does not suit this gutter.',
    source: testSource,
  });
  const pair = (evidence: Evidence, tables: readonly Table[]) =>
    must(
      evaluate(evidence, tables).assembly.pairs.find(({ slots }) => slots[0] === 'lock ring'),
      'ring and base',
    );
  function foreignRing(): Evidence {
    const evidence = soundEvidence();
    Object.assign(part(evidence, 'lock ring'), OTHER);
    return evidence;
  }

  test('without a row a ring of another maker does not match; with one it does, and the row is cited', () => {
    expect(pair(foreignRing(), demonstration).matches).toBe(false);
    const allowed = pair(foreignRing(), [tableOf([match('may')])]);
    expect(allowed).toMatchObject({ matches: true, rules: [{ row: 'may' }] });
    expect(evaluate(foreignRing(), [tableOf([match('may')])]).demonstration).toBe(true);
  });

  test('one row against is stronger than any row for it, whichever table stands first', () => {
    const [may, not] = [tableOf([match('may')]), tableOf([match('may not')], { table: 'another' })];
    for (const tables of [
      [may, not],
      [not, may],
    ])
      expect(pair(foreignRing(), tables)).toMatchObject({ matches: false, rules: [{ table: 'another' }] });
  });

  test('a row against parts of one maker and series is obeyed too', () => {
    const { maker, series } = part(soundEvidence(), 'lock ring');
    const own = {
      ...match('may not'),
      pairs: [
        [
          { maker, series },
          { maker, series },
        ],
      ],
    };
    expect(pair(soundEvidence(), [tableOf([own])]).matches).toBe(false);
  });

  test('a part without a known maker matches nothing, whatever is listed', () => {
    const evidence = foreignRing();
    part(evidence, 'rim base').maker = '';
    expect(pair(evidence, [tableOf([match('may')])]).matches).toBe(false);
  });
});

describe('evidence that a table asks for', () => {
  const asks = (ask: object, over: object = {}) => ({
    row: 'asked',
    type: 'evidence',
    components: ['rim base'],
    ask,
    source: testSource,
    ...over,
  });
  const depth = (positions: number[], repeats: number) =>
    asks({ what: 'reading', characteristic: 'gutter depth', positions, repeats });

  test('readings at positions beyond those of the construction, and repeats', () => {
    const places = part(soundEvidence(), 'rim base')
      .readings.filter((one) => one.characteristic === 'gutter depth')
      .map((one) => must(one.clock ?? undefined, 'clock'));
    expect(verdictOf(soundEvidence(), 'rim base', [depth(places, 1)]).result).toBe('keep');
    const elsewhere = [1, 2, 4, 5, 7, 8, 10, 11].filter((clock) => !places.includes(clock)).slice(0, 2);
    const more = verdictOf(soundEvidence(), 'rim base', [depth(elsewhere, 1)]);
    expect(more.result).toBe('hold');
    expect(more.missing.map((one) => one.clock)).toEqual(elsewhere);
    const twice = verdictOf(soundEvidence(), 'rim base', [depth(places.slice(0, 1), 2)]);
    expect(twice.missing).toContainEqual(
      expect.objectContaining({ text: expect.stringMatching(/1 of 2 readings/) }),
    );
  });

  test('a photo of a zone', () => {
    const evidence = soundEvidence();
    const base = part(evidence, 'rim base');
    base.photos = base.photos.filter((photo) => photo.zone !== 'mounting taper');
    const before = verdictOf(evidence, 'rim base', [asks({ what: 'photo' }, { zones: ['bead seat'] })])
      .missing.length;
    const asked = verdictOf(evidence, 'rim base', [asks({ what: 'photo' }, { zones: ['mounting taper'] })]);
    expect(asked.missing.length).toBe(before + 1);
  });

  test('a test within hours on duty needs the hours of the part and of the test', () => {
    const rows = [
      {
        row: 'test',
        type: 'test',
        components: ['lock ring'],
        zones: ['ring body'],
        methods: ['magnetic particle'],
        withinHours: 5000,
        source: testSource,
      },
    ];
    const result = (part_: number | null, test_: number | null) => {
      const evidence = soundEvidence();
      const ring = part(evidence, 'lock ring');
      ring.dutyHours = part_ === null ? null : { value: part_, u: 0 };
      ring.tests = [
        {
          id: 't',
          method: 'magnetic particle',
          zones: ['ring body'],
          result: 'no indication',
          on: evidence.decidedAt.slice(0, 10),
          standard: '',
          dutyHours: test_,
        },
      ];
      return verdictOf(evidence, 'lock ring', rows).result;
    };
    expect(result(15000, 10000)).toBe('keep');
    expect(result(15001, 10000)).toBe('hold');
    expect(result(null, 10000)).toBe('hold');
    expect(result(15000, null)).toBe('hold');
  });

  test('a test at more hours than the part has contradicts itself and does not count', () => {
    // Expanded uncertainty of the part's hours, k = 2, is allowed for; common practice, no source.
    const rows = (over: object) => [
      {
        row: 'test',
        type: 'test',
        components: ['lock ring'],
        zones: ['ring body'],
        methods: ['magnetic particle'],
        source: testSource,
        ...over,
      },
    ];
    const judged = (testHours: readonly number[], u: number, over: object) => {
      const evidence = soundEvidence();
      const ring = part(evidence, 'lock ring');
      ring.dutyHours = { value: 15000, u };
      ring.tests = testHours.map((dutyHours, i) => ({
        id: `t${i}`,
        method: 'magnetic particle',
        zones: ['ring body'],
        result: 'no indication',
        on: evidence.decidedAt.slice(0, 10),
        standard: '',
        dutyHours,
      }));
      return verdictOf(evidence, 'lock ring', rows(over));
    };
    for (const over of [{ withinHours: 5000 }, { withinMonths: 12 }]) {
      const held = judged([15001], 0, over);
      expect(held.result).toBe('hold');
      expect(held.missing.map((one) => one.text)).toEqual([
        'Magnetic particle test of ring body on 2026-11-02: recorded at 15001 h on duty, and the part has 15000 h ± 0 h (k = 2). One of the two is wrong, so the test does not count.',
      ]);
      expect(judged([15000], 0, over).result).toBe('keep');
      expect(judged([15100], 50, over).result).toBe('keep');
      expect(judged([15101], 50, over).result).toBe('hold');
      // Another test that counts is enough.
      expect(judged([15101, 14000], 50, over).result).toBe('keep');
    }
  });

  test('repair of a patch is open up to an area', () => {
    const row = {
      row: 'area',
      type: 'defect',
      components: ['rim base'],
      defects: ['pitting'],
      verdict: 'repair',
      repairUpToMm2: 500,
      says: 'Pitting is dressed.',
      source: testSource,
    };
    const finding = (areaMm2: number | null) => {
      const evidence = soundEvidence();
      part(evidence, 'rim base').defects.push({
        id: 'd',
        defect: 'pitting',
        zone: 'bead seat' as never,
        clock: 3,
        method: 'visual',
        note: '',
        lengthMm: null,
        areaMm2: areaMm2 === null ? null : { value: areaMm2, u: 0 },
      });
      return verdictOf(evidence, 'rim base', [row]);
    };
    const classOf = (area: number | null) =>
      finding(area).findings.find((one) => one.about === 'defect')?.class;
    expect([499, 500, 501].map(classOf)).toEqual(['repair', 'repair', 'scrap']);
    expect(finding(null).missing).toContainEqual(
      expect.objectContaining({ what: 'size', characteristic: 'corrosion area' }),
    );
  });
});
