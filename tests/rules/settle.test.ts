import { describe, expect, test } from 'vitest';
import { must, uniformFrom } from '../../lib/base/index.ts';
import {
  atHandFor,
  evaluate,
  type ReadingEvidence,
  settlingSentences,
  whatWouldSettle,
} from '../../lib/rules/index.ts';
import { normalCdf } from '../../lib/units/index.ts';
import { defect, part, reading, soundEvidence, tableOf, testSource } from '../support/evidence.ts';
import { at, closedForm, findingOf, LIMIT, Z95 } from './settling.ts';

/** Normal numbers from a fixed seed by the polar method of Marsaglia, from memory. */
function normals(seed: number): () => number {
  const uniform = uniformFrom(seed);
  return () => {
    for (;;) {
      const [x, y] = [2 * uniform() - 1, 2 * uniform() - 1];
      const s = x * x + y * y;
      if (s > 0 && s < 1) return x * Math.sqrt((-2 * Math.log(s)) / s);
    }
  };
}

describe('one place, one-sided limit, against the closed form', () => {
  test.each([
    [10.55, 0.1, 0.01],
    [10.55, 0.1, 0.05],
    [10.55, 0.1, 0.1],
    [10.51, 0.2, 0.03],
    [10.6, 0.3, 0.02],
  ])('%d mm, u = %d mm, measured again with u = %d mm', (value, u, uNew) => {
    const readings = [at(6, value, u)];
    const settling = whatWouldSettle(findingOf(readings), readings, [{ name: 'new', uMm: uNew }]);
    const expected = closedForm(10.5, value, u, uNew);
    const [action] = settling?.actions ?? [];
    expect(action).toMatchObject({ places: [6], instrument: 'new', repeats: 1 });
    expect(action?.as.keep).toBeCloseTo(expected.keep, 8);
    expect(action?.as.scrap).toBeCloseTo(expected.scrap, 8);
    expect(action?.as.repair).toBe(0);
    expect(action?.settled).toBeCloseTo(expected.keep + expected.scrap, 8);
  });

  test('the u that is needed for 80 % gives 80 %', () => {
    const readings = [at(6, 10.55, 0.1)];
    const needed = must(whatWouldSettle(findingOf(readings), readings, [])?.neededU ?? undefined, 'u');
    const { keep, scrap } = closedForm(10.5, 10.55, 0.1, needed);
    expect(keep + scrap).toBeCloseTo(0.8, 4);
  });
});

describe('against seeded Monte Carlo through the engine itself', () => {
  const cases: [string, object, object, ReadingEvidence[], number][] = [
    ['keep, repair and scrap', { ...LIMIT, repair: { min: 10.2 } }, {}, [at(6, 10.4, 0.15)], 0.04],
    [
      'two-sided',
      { ...LIMIT, keep: { min: 10.4, max: 10.8 }, repair: { min: 10, max: 11 } },
      {},
      [at(6, 10.7, 0.12)],
      0.03,
    ],
    [
      'two instruments read here before',
      { ...LIMIT, repair: { min: 9 } },
      {},
      [at(6, 10.45, 0.1, 'old'), at(6, 10.7, 0.1, 'other')],
      0.05,
    ],
    [
      'two instruments read here before, and disagree',
      { ...LIMIT, repair: { min: 9 } },
      {},
      [at(6, 10.55, 0.1, 'old'), at(6, 11, 0.05, 'other')],
      0.05,
    ],
    [
      'one out of calibration read here too',
      { ...LIMIT, repair: { min: 9 } },
      {},
      [
        at(6, 10.55, 0.1, 'old'),
        reading({ id: 'x', valueMm: 10.6, instrument: { name: 'x', calibrationDue: null, expired: true } }),
      ],
      0.05,
    ],
    [
      'a nominal size with its own u',
      { ...LIMIT, boundsOf: 'from nominal', nominal: { value: 12.5, u: 0.03 }, keep: { min: -2 } },
      {},
      [at(6, 10.6, 0.1)],
      0.02,
    ],
    [
      'simple acceptance',
      { ...LIMIT, repair: { min: 10.2 } },
      { decision: { rule: 'simple acceptance', risk: 0.05 } },
      [at(6, 10.4, 0.15)],
      0.04,
    ],
  ];
  test.each(cases)(
    '%s',
    (_name, row, over, readings, uNew) => {
      const finding = findingOf(readings, row, over);
      const [action] = whatWouldSettle(finding, readings, [{ name: 'new', uMm: uNew }])?.actions ?? [];
      const [draw, runs] = [normals(7), 10_000];
      const { value, u } = finding.governing;
      const counts = { keep: 0, repair: 0, scrap: 0 };
      for (let run = 0; run < runs; run += 1) {
        const truth = value + u * draw();
        const again = findingOf([...readings, at(6, truth + uNew * draw(), uNew, 'new', 'n')], row, over);
        if (again.guardedClass === again.simpleClass) counts[again.simpleClass] += 1;
      }
      for (const one of ['keep', 'repair', 'scrap'] as const) {
        // Four standard deviations of the share.
        const p = must(action, 'action').as[one];
        expect(Math.abs(counts[one] / runs - p), one).toBeLessThan(
          4 * Math.sqrt((p * (1 - p)) / runs) + 1e-9,
        );
      }
    },
    60_000,
  );

  test('two doubtful places, both measured again', () => {
    const readings = [at(3, 10.56, 0.1), at(6, 10.58, 0.08), at(9, 13, 0.1)];
    const finding = findingOf(readings);
    const settling = whatWouldSettle(finding, readings, [{ name: 'new', uMm: 0.02 }]);
    expect(settling?.doubtful).toEqual([3, 6]);
    const both = must(
      settling?.actions.find((action) => action.places.length === 2),
      'both',
    );
    const [draw, runs] = [normals(8), 10_000];
    let settled = 0;
    for (let run = 0; run < runs; run += 1) {
      const more = [readings[0], readings[1]].map((one) => {
        const { clock, valueMm, uMm } = must(one, 'reading');
        return at(clock, valueMm + uMm * draw() + 0.02 * draw(), 0.02, 'new', `n${clock}`);
      });
      const again = findingOf([...readings, ...more]);
      if (again.guardedClass === again.simpleClass) settled += 1;
    }
    expect(Math.abs(settled / runs - both.settled)).toBeLessThan(4 * Math.sqrt(0.25 / runs));
    // One place alone can settle it only as scrap.
    for (const action of settling?.actions ?? [])
      if (action.places.length === 1) expect([action.as.keep, action.as.repair]).toEqual([0, 0]);
  });
});

/** What is asked of the ranking is our own specification, no source. */
describe('which actions are named', () => {
  const doubtful = [at(6, 10.55, 0.1)];

  test('a settled finding has nothing to settle, nor one whose two classes count as the same', () => {
    for (const value of [13, 10.3]) {
      const readings = [at(6, value, 0.1)];
      expect(whatWouldSettle(findingOf(readings), readings, [{ name: 'new', uMm: 0.01 }])).toBeNull();
    }
    const ban = { row: 'ban', type: 'no rework', says: 'No rework.', source: testSource };
    const readings = [at(6, 9.05, 0.1)];
    const row = { ...LIMIT, repair: { min: 9 } };
    expect(whatWouldSettle(findingOf(readings, row), readings, [])).not.toBeNull();
    expect(whatWouldSettle(findingOf(readings, row, {}, [ban]), readings, [])).toBeNull();
  });

  test('the same instrument again does not help: its u is not lessened by repeating', () => {
    const { actions } = must(
      whatWouldSettle(findingOf(doubtful), doubtful, [{ name: 'old', uMm: 0.1 }]) ?? undefined,
      'settling',
    );
    expect(actions).toEqual([]);
  });

  test.each([
    [[10.5, 10.7, 10.55], 0.01, 5],
    [[10.5, 10.8, 10.55, 10.62], 0.03, 4],
  ])(
    'the same instrument again helps where the doubt comes from the scatter of its repeats (closed form, by hand): %j',
    (values, uI, named) => {
      // n readings with mean m and deviation s, k more: the mean moves by z s √(k / (n (n + k))), u becomes √(uI² + s²/(n + k)).
      const n = values.length;
      const readings = values.map((value, i) => at(6, value, uI, 'old', `r${i}`));
      const settling = whatWouldSettle(findingOf(readings), readings, [{ name: 'old', uMm: uI }]);
      const [action] = must(settling ?? undefined, 'settling').actions;
      const mean = values.reduce((sum, value) => sum + value, 0) / n;
      const s = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1));
      const chance = (k: number) => {
        const step = s * Math.sqrt(k / (n * (n + k)));
        const u = Math.hypot(uI, s / Math.sqrt(n + k));
        return normalCdf((mean - 10.5 - Z95 * u) / step) + normalCdf((10.5 - mean) / step);
      };
      const { settled, repeats } = must(action, 'action');
      expect(settled).toBeCloseTo(chance(repeats), 8);
      // More repeats help more, and the fewest that are nearly as good as five are named.
      const chances = [1, 2, 3, 4, 5].map(chance);
      expect(chances).toEqual([...chances].sort((a, b) => a - b));
      expect(repeats).toBe(chances.findIndex((one) => one >= chance(5) - 0.02) + 1);
      expect(repeats).toBe(named);
    },
  );

  test('where repeats scatter, another instrument is asked for two readings at least: one would hide its scatter', () => {
    const readings = [10.5, 10.8].map((value, i) => at(6, value, 0.01, 'old', `r${i}`));
    const settling = whatWouldSettle(findingOf(readings), readings, [{ name: 'new', uMm: 0.01 }]);
    const [action, ...others] = must(settling ?? undefined, 'settling').actions;
    const { repeats, as } = must(action, 'action');
    expect(repeats).toBeGreaterThanOrEqual(2);
    expect(others).toEqual([]);
    // Both means scatter: s/√2 in what is there, s/√k in the new mean, drawn and counted alike.
    const s = 0.3 / Math.SQRT2;
    const expected = closedForm(
      10.5,
      10.65,
      Math.hypot(0.01, s / Math.SQRT2),
      Math.hypot(0.01, s / Math.sqrt(repeats)),
    );
    expect(as.keep).toBeCloseTo(expected.keep, 8);
    expect(as.scrap).toBeCloseTo(expected.scrap, 8);
  });

  test('the better instrument comes first; of nearly equal ones the smaller effort', () => {
    const { actions } = must(
      whatWouldSettle(findingOf(doubtful), doubtful, [
        { name: 'rough', uMm: 0.08 },
        { name: 'fine', uMm: 0.01 },
      ]) ?? undefined,
      'settling',
    );
    expect(actions.map((action) => action.instrument)).toEqual(['fine', 'rough']);
    expect(actions[0]?.settled).toBeGreaterThan(must(actions[1], 'second').settled);
  });

  test('a nominal size that is not known well enough cannot be settled by any gauge', () => {
    const row = { ...LIMIT, boundsOf: 'from nominal', nominal: { value: 12.5, u: 0.5 }, keep: { min: -2 } };
    const readings = [at(6, 10.6, 0.05)];
    const finding = findingOf(readings, row);
    const settling = must(
      whatWouldSettle(finding, readings, [{ name: 'new', uMm: 0.001 }]) ?? undefined,
      'settling',
    );
    expect(settling).toMatchObject({ actions: [], neededU: null });
    expect(settlingSentences(finding, settling)).toEqual([
      'Nothing at hand would settle it, and no gauge could: the size of the new part is not known well enough.',
    ]);
  });

  test('where the size of the new part is known, what no measurement settles is not blamed on it', () => {
    // The reading without an instrument speaks against what the other says, however well the place is measured again.
    const readings = [at(6, 11, 0.1), reading({ id: 'x', valueMm: 10.55, uMm: 0.05, instrument: null })];
    const nominal = { boundsOf: 'from nominal', keep: { min: -2 } };
    for (const row of [LIMIT, { ...LIMIT, ...nominal, nominal: { value: 12.5, u: 0.001 } }]) {
      const finding = findingOf(readings, row);
      const settling = must(whatWouldSettle(finding, readings, []) ?? undefined, 'settling');
      if (settling.neededU !== null) throw new Error(`settled by ${settling.neededU}`);
      expect(settling.newSizeInDoubt).toBe(false);
      expect(settlingSentences(finding, settling)).toEqual([
        'Nothing at hand would settle it, and no one measurement would with a chance of 80 %: what was read there before still counts.',
      ]);
    }
  });

  test('a patch from a photo has no gauge, only the u that would do', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').defects.push(
      defect({ defect: 'corrosion', zone: 'centre band', clock: 3, areaMm2: { value: 3900, u: 200 } }),
    );
    const table = tableOf([
      { ...LIMIT, characteristic: 'corrosion area', keep: { max: 4000 }, methods: ['photo'] },
    ]);
    const finding = must(
      evaluate(evidence, [table]).parts[0]?.findings.find((one) => one.about === 'limit'),
      'finding',
    );
    if (finding.about !== 'limit') throw new Error('no limit finding');
    const settling = must(
      whatWouldSettle(finding, part(evidence, 'rim base').readings, []) ?? undefined,
      'settling',
    );
    expect(settling.neededU).toBeGreaterThan(10);
    expect(settling.neededU).toBeLessThan(200);
    expect(settlingSentences(finding, settling).join()).toMatch(
      /standard uncertainty of \d\.\d\d cm² would, with a chance of 80 %/,
    );
    expect(settlingSentences(finding, settling, 'imperial').join()).toMatch(/\d\.\d{3} in² would/);
  });
});

test('the sentence for a person names place, instrument, chance and the likely answer', () => {
  const readings = [at(3, 10.58, 0.1)];
  const finding = findingOf(readings);
  const settling = must(
    whatWouldSettle(finding, readings, [{ name: 'depth gauge DG-02', uMm: 0.02 }]) ?? undefined,
    'settling',
  );
  const percent = Math.round(100 * must(settling.actions[0], 'action').settled);
  expect(settlingSentences(finding, settling)).toEqual([
    `Measure the gutter depth again at 3 o'clock with depth gauge DG-02: ${percent} % likely to settle it (keep 65 %, scrap 21 %).`,
  ]);
});

test('instruments at hand are those of a suiting kind in calibration (kinds: common practice, no source)', () => {
  const gauge = {
    name: 'DG',
    kind: 'depth gauge',
    serial: '',
    resolutionMm: 0.12,
    certificateUMm: 0.03,
    calibratedOn: '2026-01-01',
    calibrationDue: '2026-06-01',
  } as const;
  const tape = { ...gauge, name: 'T', kind: 'steel tape' } as const;
  const undated = { ...gauge, name: 'U', calibrationDue: null };
  const of = (day: string) => atHandFor('gutter depth', [gauge, tape, undated], `${day}T10:00:00.000Z`);
  expect(of('2026-06-01')).toEqual([
    { name: 'DG', uMm: expect.closeTo(Math.hypot(0.12 / Math.sqrt(12), 0.03), 12) },
  ]);
  expect(of('2026-06-02')).toEqual([]);
  expect(
    atHandFor('lock-ring gap', [gauge, tape], '2026-05-01T10:00:00.000Z').map((one) => one.name),
  ).toEqual(['T']);
});
