import { describe, expect, it } from 'vitest';
import type { Call } from '../../lib/record/index.ts';
import {
  absoluteInterval,
  CALLS_IN_ORDER,
  callAgreement,
  errorOfPair,
  intraclass,
  oneWayInterval,
  readingAgreement,
  statedWords,
} from '../../lib/review/agreement/index.ts';
import {
  ALL_PAIRS,
  type CallPair,
  pairGroups,
  pairsWithin,
  type ReadingPair,
} from '../../lib/review/index.ts';
import { caseOf } from '../support/cases.ts';
import { thing } from '../support/entries.ts';

const shared = {
  at: '2026-05-04T08:00:00.000Z',
  inspector: 'ina',
  reviewer: 'rey',
  blind: true,
};
const pair = (firstMm: number, secondMm: number, over: Partial<ReadingPair> = {}): ReadingPair => ({
  ...shared,
  inspection: thing(1),
  component: thing(2),
  characteristic: 'gutter depth',
  clock: 3,
  state: null,
  first: { valueMm: firstMm, uMm: null, instrument: null },
  second: { valueMm: secondMm, uMm: null, instrument: null },
  ...over,
});
/** A pair on a part of its own. */
const apart = (firstMm: number, secondMm: number, i: number, over: Partial<ReadingPair> = {}) =>
  pair(firstMm, secondMm, { component: thing(100 + i), ...over });
const call = (first: Call, second: Call, over: Partial<CallPair> = {}): CallPair => ({
  ...shared,
  inspection: thing(1),
  component: thing(2),
  slot: 'rim base',
  first,
  second,
  ...over,
});

describe('agreement of reading pairs', () => {
  it('published case C-06: bias, limits of agreement and their intervals', () => {
    const { inputs, recomputed, expected } = caseOf('C-06');
    const pairs = inputs.method_1.map((value: number, i: number) => apart(value, inputs.method_2[i], i));
    const { limits, n } = readingAgreement(pairs);
    if (!limits.ok) throw new Error(limits.error.message);
    expect(n).toBe(expected.n);
    expect(limits.value.bias).toBeCloseTo(expected.bias, 1);
    expect(limits.value.sd).toBeCloseTo(expected.sd, 1);
    // The case's note: with 1.96 instead of 2 the limits are these.
    expect(limits.value.limits[0]).toBeCloseTo(recomputed.limits_196[0], 2);
    expect(limits.value.limits[1]).toBeCloseTo(recomputed.limits_196[1], 2);
    expect(limits.value.biasInterval[0]).toBeCloseTo(recomputed.bias_ci[0], 6);
    const width = (recomputed.lower_limit_ci[1] - recomputed.lower_limit_ci[0]) / 2;
    const [low, high] = limits.value.lowerInterval;
    expect((high - low) / 2).toBeCloseTo(width, 6);
  });

  it('published case B-11: the standard deviation of one reading is that of the differences over √2', () => {
    const { inputs, expected } = caseOf('B-11');
    const pairs = inputs.wright_first.map((value: number, i: number) =>
      apart(value, inputs.wright_second[i], i),
    );
    expect((readingAgreement(pairs).withinMm ?? 0) * Math.SQRT2).toBeCloseTo(expected.sd_diff_wright, 0);
  });

  it('published case C-07: intervals of ICC(1,1) and ICC(2,1), bounds as the package manual prints them, from memory', () => {
    const found = intraclass(caseOf('C-07').inputs.data);
    if (!found.ok) throw new Error('refused');
    const [one, two] = [oneWayInterval(found.value), absoluteInterval(found.value)];
    expect(one?.[0]).toBeCloseTo(-0.133, 3);
    expect(one?.[1]).toBeCloseTo(0.72, 2);
    expect(two?.[0]).toBeCloseTo(0.019, 3);
    expect(two?.[1]).toBeCloseTo(0.76, 2);
  });

  it('takes ICC(2,1) for one inspector and one reviewer, ICC(1,1) where people change', () => {
    const table: number[][] = caseOf('C-07').inputs.data.map((row: number[]) => row.slice(0, 2));
    const expected = intraclass(table);
    if (!expected.ok) throw new Error('refused');
    const two = readingAgreement(table.map(([a = 0, b = 0], i) => apart(a, b, i))).icc;
    expect(two).toMatchObject({ form: 'same two', value: expected.value.absolute.single });
    const many = readingAgreement(
      table.map(([a = 0, b = 0], i) => apart(a, b, i, { inspector: `ina-${i % 2}` })),
    ).icc;
    expect(many).toMatchObject({ form: 'changing', value: expected.value.oneWay.single });
    expect(many?.interval?.[0]).toBeLessThan(many?.value ?? 0);
  });

  it('published case C-09: normalised errors with expanded uncertainties, and how many are within 1', () => {
    const { inputs, expected } = caseOf('C-09');
    const pairs = inputs.x.map((value: number, i: number) =>
      apart(value, inputs.X, i, {
        first: { valueMm: value, uMm: inputs.U_x / 2, instrument: null },
        second: { valueMm: inputs.X, uMm: inputs.U_X / 2, instrument: null },
      }),
    );
    pairs.forEach((one: ReadingPair, i: number) => {
      expect(errorOfPair(one)).toBeCloseTo(expected.En[i], 4);
    });
    const { stated } = readingAgreement([...pairs, pair(1, 2)]);
    expect(stated).toEqual({ counted: 3, within: expected.satisfactory.filter(Boolean).length });
    expect(statedWords(stated)).toBe('1 of 3 (33.3 %)');
    expect(statedWords({ counted: 0, within: 0 })).toBe('none stated');
  });

  it('has no limits and no ICC for fewer than three pairs, and none of anything for no pairs', () => {
    expect(readingAgreement([pair(1, 2), pair(2, 3)])).toMatchObject({ limits: { ok: false }, icc: null });
    expect(readingAgreement([])).toMatchObject({ n: 0, withinMm: null, icc: null, notes: [] });
  });

  it('has no ICC where all readings are alike', () => {
    expect(readingAgreement([1, 2, 3].map((i) => apart(5, 5, i)))).toMatchObject({ withinMm: 0, icc: null });
  });

  it('says when five pairs are too few and when six are merely few', () => {
    const some = (n: number) =>
      Array.from({ length: n }, (_, i) => apart(10 + i, 10 + i + (i % 2 === 0 ? 0.1 : -0.1), i));
    expect(readingAgreement(some(5)).notes[0]).toContain('too few');
    expect(readingAgreement(some(6)).notes[0]).toContain('rough');
    expect(readingAgreement(some(29)).notes[0]).toContain('rough');
    expect(readingAgreement(some(30)).notes.some((note) => /few|rough/.test(note))).toBe(false);
  });

  it('says when several pairs come from one part', () => {
    expect(readingAgreement([pair(1, 2), pair(2, 3), apart(3, 5, 1)]).notes.join()).toContain('from 2 parts');
  });
});

describe('agreement of calls', () => {
  const of = (table: readonly (readonly number[])[]) =>
    table.flatMap((row, i) =>
      row.flatMap((count, j) =>
        Array.from({ length: count }, () => call(CALLS_IN_ORDER[i] ?? 'keep', CALLS_IN_ORDER[j] ?? 'keep')),
      ),
    );

  it('published case C-05: kappa with evenly falling weights for four ordered classes', () => {
    const { inputs, recomputed } = caseOf('C-05');
    const found = callAgreement(of(inputs.table));
    if (!found.kappa.ok) throw new Error('refused');
    expect(found.table).toEqual(inputs.table);
    expect(found.kappa.value.kappa).toBeCloseTo(recomputed.kappa_linear, 9);
    expect(found.kappa.value.interval?.[0]).toBeLessThan(recomputed.kappa_linear);
    expect(found.n).toBe(149);
    expect(found.notes).toEqual([]);
  });

  it('orders calls keep, hold, repair, scrap and counts milder and more severe second calls', () => {
    const found = callAgreement([call('keep', 'hold'), call('scrap', 'repair'), call('hold', 'hold')]);
    expect(found).toMatchObject({ same: 1, milder: 1, moreSevere: 1 });
  });

  it('case C-11: kappa is not defined where both used one call only, and there is no interval where all agree', () => {
    const one = callAgreement(
      of([
        [10, 0, 0, 0],
        [0, 0, 0, 0],
        [0, 0, 0, 0],
        [0, 0, 0, 0],
      ]),
    );
    expect(one.kappa).toMatchObject({ ok: true, value: { kappa: null, interval: null } });
    const all = callAgreement(
      of([
        [10, 0, 0, 0],
        [0, 0, 0, 0],
        [0, 0, 0, 0],
        [0, 0, 0, 9],
      ]),
    );
    expect(all.kappa).toMatchObject({ ok: true, value: { kappa: 1, interval: null } });
    expect(callAgreement([]).kappa.ok).toBe(false);
  });

  it('calls 31 few and 32 not', () => {
    const some = (n: number) =>
      Array.from({ length: n }, (_, i) => call(i % 2 ? 'keep' : 'scrap', i % 3 ? 'keep' : 'scrap'));
    expect(callAgreement(some(31)).notes.join()).toContain('few');
    expect(callAgreement(some(32)).notes).toEqual([]);
  });
});

describe('the pairs that are looked at', () => {
  const gauge = thing(50);
  const other = pair(1, 2, {
    at: '2026-06-01T00:00:00.000Z',
    inspector: 'max',
    reviewer: 'ria',
    characteristic: 'flange wear',
    blind: false,
    second: { valueMm: 2, uMm: null, instrument: gauge },
  });
  const all = [pair(1, 2), other];
  const open = { ...ALL_PAIRS, blindOnly: false };

  it.each([
    ['all', open, 2],
    ['measured blind', ALL_PAIRS, 1],
    ['from a day on', { ...open, from: '2026-05-05' }, 1],
    ['from the day itself', { ...open, from: '2026-06-01' }, 1],
    ['up to the day itself', { ...open, to: '2026-05-04' }, 1],
    ['up to the day before', { ...open, to: '2026-05-03' }, 0],
    ['of an inspector', { ...open, inspector: 'max' }, 1],
    ['of a reviewer', { ...open, reviewer: 'rey' }, 1],
    ['with an instrument in either hand', { ...open, instrument: gauge }, 1],
    ['of a characteristic', { ...open, characteristic: 'gutter depth' as const }, 1],
  ])('%s', (_, filter, count) => {
    expect(pairsWithin(all, filter)).toHaveLength(count);
  });

  it('leaves calls alone where instrument or characteristic are chosen', () => {
    expect(
      pairsWithin([call('keep', 'keep')], { ...open, instrument: gauge, characteristic: 'flange wear' }),
    ).toHaveLength(1);
  });

  it('keeps characteristics and states of the ring apart', () => {
    const gap = (state: 'free' | 'fitted') => pair(3, 4, { characteristic: 'lock-ring gap', state });
    const groups = pairGroups([gap('free'), pair(1, 2), gap('fitted'), gap('free')]);
    expect(groups.map((one) => [one.characteristic, one.state, one.pairs.length])).toEqual([
      ['lock-ring gap', 'free', 2],
      ['gutter depth', null, 1],
      ['lock-ring gap', 'fitted', 1],
    ]);
  });
});
