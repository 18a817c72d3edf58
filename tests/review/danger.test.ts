import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dangerOf, rankOf } from '../../lib/review/index.ts';
import {
  evaluate,
  type Finding,
  type LimitFinding,
  type PartVerdict,
  type Verdict,
} from '../../lib/rules/index.ts';
import { defectFinding, limitFinding, place } from '../rules/findings.ts';
import { depthLimit, soundEvidence, tableOf } from '../support/evidence.ts';

const RESULTS = ['keep', 'hold', 'repair', 'scrap'] as const;
const CLASSES = [null, 'keep', 'repair', 'scrap'] as const;
const SUBMITTED = '2026-05-04T08:00:00.000Z';

const sound = evaluate(soundEvidence(), [tableOf([depthLimit()])]);

const aPart = (over: Partial<PartVerdict> = {}): PartVerdict => ({
  slot: 'rim base',
  component: 'base',
  result: 'keep',
  worst: 'keep',
  decidedBy: [],
  findings: [],
  missing: [],
  demonstration: false,
  sentence: '',
  ...over,
});

const verdictOf = (...parts: PartVerdict[]): Verdict => ({ ...sound, parts });

/** The danger of some parts; small energy, submitted on a May day and not called by anyone unless the test says so. */
function danger(
  parts: readonly PartVerdict[],
  over: { calls?: Record<string, string>; designation?: string; kpa?: number | null; at?: string } = {},
) {
  const verdict = verdictOf(...parts);
  return dangerOf({
    verdict: {
      ...verdict,
      inputs: {
        ...verdict.inputs,
        wheel: { ...verdict.inputs.wheel, designation: over.designation ?? '25-14.00/1.5' },
      },
    },
    calls: new Map(Object.entries(over.calls ?? {})),
    recommendedKpa: over.kpa === undefined ? 650 : over.kpa,
    submittedAt: over.at ?? SUBMITTED,
  });
}

const rankWith = (findings: readonly Finding[], over: Partial<PartVerdict> = {}) =>
  danger([aPart({ findings, ...over })]).rank;

describe('the class comes first, strictly', () => {
  const ladder: [name: string, part: Partial<PartVerdict>][] = [
    ['keep', { result: 'keep' }],
    ['hold', { result: 'hold', worst: null }],
    ['hold, repair so far', { result: 'hold', worst: 'repair' }],
    ['repair', { result: 'repair', worst: 'repair' }],
    ['hold, scrap so far', { result: 'hold', worst: 'scrap' }],
    ['scrap', { result: 'scrap', worst: 'scrap' }],
  ];

  test.each(ladder.slice(1).map(([name, part], i) => [name, part, ladder[i]?.[1] ?? {}] as const))(
    '%s ranks above the one below it, whatever else speaks for that one',
    (_name, worse, better) => {
      const far = limitFinding({ beyondKeep: 1, beyondRepair: 1, margin: -9, governing: place({ u: 0.1 }) });
      const most = danger([aPart({ ...better, findings: [far] })], {
        designation: 'not legible',
        calls: { base: 'keep' },
        at: '1970-01-01T00:00:00.000Z',
      });
      const least = danger([aPart(worse)], { at: '2079-01-01T00:00:00.000Z' });
      expect(least.rank).toBeGreaterThan(most.rank);
    },
  );

  test('the worst part decides, and the reason names it', () => {
    const { cls, why, rank } = danger([
      aPart(),
      aPart({ slot: 'lock ring', component: 'ring', result: 'scrap', worst: 'scrap' }),
    ]);
    expect(cls).toBe('scrap');
    expect(why).toMatch(/^scrap: lock ring$/);
    expect(rank).toBe(danger([aPart({ result: 'scrap', worst: 'scrap' })]).rank);
  });

  test('a verdict without a part is held, not kept', () => {
    expect(danger([]).cls).toBe('hold');
  });
});

describe('within a class', () => {
  const at = (margin: number, u = 0.1) => limitFinding({ margin, governing: place({ u }) });

  test('a size beyond its limit ranks above one at it, and that above one inside', () => {
    const [inside, equal, beyond] = [0.2, 0, -0.2].map((margin) => rankWith([at(margin)]));
    expect(equal).toBeGreaterThan(inside ?? Number.POSITIVE_INFINITY);
    expect(beyond).toBeGreaterThan(equal ?? Number.POSITIVE_INFINITY);
  });

  test('five uncertainties and more are alike; without an uncertainty it counts as five', () => {
    expect(rankWith([at(-0.5)])).toBe(rankWith([at(-3)]));
    expect(rankWith([at(-0.49)])).toBeLessThanOrEqual(rankWith([at(-0.5)]));
    expect(rankWith([at(-0.001, 0)])).toBe(rankWith([at(-0.5)]));
    expect(rankWith([at(0.001, 0)])).toBe(rankWith([at(0.5)]));
  });

  test('a further part as bad as the worst moves it up, five of them at most', () => {
    const scrap = (n: number) =>
      Array.from({ length: n }, (_, i) => aPart({ result: 'scrap', worst: 'scrap', slot: `${i}` }));
    const ranks = [1, 2, 6, 7].map((n) => danger([...scrap(n), aPart()]).rank);
    expect(ranks.map((rank) => rank - (ranks[0] ?? 0))).toEqual([0, 2 * 7, 10 * 7, 10 * 7]);
  });

  test('a defect counts where no size is nearer', () => {
    expect(rankWith([at(0.5), defectFinding({ class: 'scrap' })])).toBeGreaterThan(rankWith([at(0.5)]));
    expect(danger([aPart({ findings: [defectFinding({ class: 'scrap' })] })]).why).toContain('crack');
  });

  test('more energy ranks higher; an unknown size counts as the largest', () => {
    const ranks = ['25-14.00/1.5', '25-22.00/3.0', '49-19.50/4.0', '57-29.00/6.0'].map(
      (designation) => danger([aPart()], { designation }).rank,
    );
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    expect(new Set(ranks).size).toBe(4);
    expect(danger([aPart()], { designation: '?' }).rank).toBe(ranks[3]);
  });

  test('an inspector who called it milder moves it up; one who called the same or worse does not', () => {
    const held = aPart({ result: 'hold', worst: null });
    const without = danger([held]).rank;
    expect(danger([held], { calls: { base: 'keep' } }).rank).toBe(without + 12 * 7);
    expect(danger([held], { calls: { base: 'hold' } }).rank).toBe(without);
    expect(danger([held], { calls: { base: 'scrap' } }).rank).toBe(without);
    expect(danger([held], { calls: { base: 'keep' } }).why).toContain('called milder: rim base');
  });

  test('a point weighs a week: below, at and above seven days', () => {
    const days = (n: number) => new Date(Date.parse(SUBMITTED) + n * 86_400_000).toISOString();
    const one = rankOf(0, 1, days(7));
    expect(rankOf(0, 0, days(1))).toBeLessThan(one);
    expect(rankOf(0, 0, days(0))).toBe(one);
    expect(rankOf(0, 0, days(-1))).toBeGreaterThan(one);
  });

  test('a moment that cannot be read counts as waiting longest', () => {
    expect(rankOf(1, 0, '')).toBe(rankOf(1, 0, '1970-01-01T00:00:00.000Z'));
  });
});

describe('never the wrong way round', () => {
  const size = fc.record({
    beyondKeep: fc.double({ min: 0, max: 1, noNaN: true }),
    beyondRepair: fc.double({ min: 0, max: 1, noNaN: true }),
    margin: fc.double({ min: -10, max: 10, noNaN: true }),
  });
  const part = fc.record({
    result: fc.constantFrom(...RESULTS),
    worst: fc.constantFrom(...CLASSES),
    findings: fc.array(
      size.map((one): LimitFinding => limitFinding({ ...one, governing: place({ u: 0.3 }) })),
      { maxLength: 3 },
    ),
  });

  test('a worse result, a worse finding or a larger probability of one part never ranks lower', () => {
    fc.assert(
      fc.property(
        fc.array(part, { minLength: 1, maxLength: 4 }),
        fc.nat(),
        size,
        fc.nat(3),
        (some, which, by, up) => {
          const parts = some.map((one, i) => aPart({ ...one, slot: `${i}`, component: `${i}` }));
          const i = which % parts.length;
          const worse = parts.map((one, n) => {
            if (n !== i) return one;
            const result = RESULTS[Math.max(RESULTS.indexOf(one.result), up)] ?? one.result;
            const worst = CLASSES[Math.max(CLASSES.indexOf(one.worst), up)] ?? one.worst;
            return {
              ...one,
              result,
              worst,
              findings: one.findings.map((finding) => {
                if (finding.about !== 'limit') return finding;
                return {
                  ...finding,
                  beyondKeep: Math.max(finding.beyondKeep, by.beyondKeep),
                  beyondRepair: Math.max(finding.beyondRepair, by.beyondRepair),
                  margin: Math.min(finding.margin, by.margin),
                };
              }),
            };
          });
          const calls = { [`${i}`]: 'repair' };
          expect(danger(worse, { calls }).rank).toBeGreaterThanOrEqual(danger(parts, { calls }).rank);
        },
      ),
    );
  });

  test('waiting longer never ranks lower', () => {
    const moment = fc.date({ min: new Date(0), max: new Date('2079-01-01'), noInvalidDate: true });
    fc.assert(
      fc.property(part, moment, moment, (one, a, b) => {
        const [early, late] = a < b ? [a, b] : [b, a];
        expect(danger([aPart(one)], { at: early.toISOString() }).rank).toBeGreaterThanOrEqual(
          danger([aPart(one)], { at: late.toISOString() }).rank,
        );
      }),
    );
  });

  test('it is a whole number', () => {
    fc.assert(fc.property(part, (one) => Number.isInteger(danger([aPart(one)]).rank)));
  });
});
