import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { Evidence, evaluate, type ReadingEvidence } from '../../lib/rules/index.ts';
import { depthLimit, part, reading, soundEvidence, tableOf } from '../support/evidence.ts';

const good = (valueMm: number, over: Partial<ReadingEvidence> = {}) =>
  reading({ id: `good ${over.clock ?? 6} ${valueMm}`, valueMm, uMm: 0.05, ...over });
const bad = (valueMm: number, over: Partial<ReadingEvidence> = {}) =>
  good(valueMm, {
    id: `bad ${over.clock ?? 6} ${valueMm}`,
    instrument: { name: 'Old gauge', calibrationDue: '2020-01-01', expired: true },
    ...over,
  });
const photo = (valueMm: number) =>
  good(valueMm, { id: `photo ${valueMm}`, method: 'photo', instrument: null });

function judged(readings: readonly ReadingEvidence[], ...rows: object[]) {
  const evidence = soundEvidence();
  part(evidence, 'rim base').readings = [...readings];
  return must(evaluate(evidence, [tableOf(rows)]).parts[0], 'rim base');
}

/** Places with readings that cannot support the keep that they alone give. */
function held(...given: Parameters<typeof judged>) {
  return judged(...given)
    .missing.filter((one) => one.what === 'instrument')
    .map((one) => one.clock);
}

/** The class under each row. */
function classes(...given: Parameters<typeof judged>) {
  return judged(...given).findings.map((one) => one.class);
}

/** An instrument out of calibration can speak against a part, never for it (README, "Decision"). */
describe('which readings can support keep', () => {
  test('those of a named instrument in calibration, and sizes from photos', () => {
    expect(held([good(11)], depthLimit())).toEqual([]);
    expect(held([bad(11)], depthLimit())).toEqual([6]);
    expect(held([good(11, { instrument: null })], depthLimit())).toEqual([6]);
    expect(held([photo(11)], depthLimit({ methods: ['photo'] }))).toEqual([]);
  });

  test('only the reading that cannot is named, and only where it has a part in a keep', () => {
    expect(held([bad(11, { clock: 3 }), good(11, { clock: 6 })], depthLimit())).toEqual([3]);
    expect(held([bad(9.5)], depthLimit())).toEqual([]);
    expect(held([bad(8)], depthLimit())).toEqual([]);
    // One row keeps what another would send to repair.
    expect(held([bad(11)], depthLimit(), depthLimit({ row: 'strict', keep: { min: 12 } }))).toEqual([6]);
  });

  test('a place that others give keep by themselves needs it not', () => {
    expect(held([good(11), bad(11.1)], depthLimit())).toEqual([]);
    // Elsewhere is elsewhere.
    expect(held([good(11, { clock: 3 }), bad(11)], depthLimit())).toEqual([6]);
  });

  test('a place that others do not give keep by themselves is not kept: better readings that cannot support it change nothing', () => {
    // 10.05 is 1 u inside (84 %). Weighted 25 to 1 the mean would be 10.117 ± 0.013, more than 8 u inside.
    const readings = [good(10.05), bad(10.12, { uMm: 0.01 })];
    expect(classes([good(10.05)], depthLimit())).toEqual(['repair']);
    expect(classes(readings, depthLimit())).toEqual(['repair']);
    expect(held(readings, depthLimit())).toEqual([]);
  });

  test('a worse reading that cannot support keep counts against the part', () => {
    // Alone 10.1 is 2 u inside. The other lies 0.1 mm lower, 1.96 × √(0.05² + 0.05²) = 0.139: the mean is 10.05 ± 0.05, 1 u inside.
    expect(classes([good(10.1)], depthLimit())).toEqual(['keep']);
    expect(classes([good(10.1), bad(10)], depthLimit())).toEqual(['repair']);
    // Far from it: alone, and 20 u beyond repair.
    expect(classes([good(10.1), bad(8)], depthLimit())).toEqual(['scrap']);
  });

  test('under every row: a place must stand by those that can support keep under each', () => {
    const strict = depthLimit({ row: 'strict', keep: { min: 10.5 } });
    const better = bad(11.5, { uMm: 0.01 });
    expect(classes([good(10.3), better], depthLimit(), strict)).toEqual(['keep', 'repair']);
    expect(classes([good(10.3), better], strict, depthLimit())).toEqual(['repair', 'keep']);
    expect(classes([good(10.8), better], depthLimit(), strict)).toEqual(['keep', 'keep']);
    expect(held([good(10.8), better], depthLimit(), strict)).toEqual([]);
  });

  test('by the readings that a row takes: one that it does not take neither helps nor hinders', () => {
    const byPhoto = depthLimit({ row: 'photo', methods: ['photo'] });
    expect(held([photo(11), bad(11)], byPhoto)).toEqual([]);
    expect(held([photo(11), bad(11)], depthLimit())).toEqual([6]);
    expect(held([photo(11), good(11), bad(11)], byPhoto, depthLimit())).toEqual([]);
    // Under one of the rows it stands alone, or under the other nothing was read there at all.
    expect(held([photo(11), bad(11)], byPhoto, depthLimit())).toEqual([6]);
    expect(held([good(11), bad(11)], byPhoto, depthLimit())).toEqual([]);
    // Under the row for photos alone there is nothing wrong with this place.
    expect(held([photo(10.05), good(11), bad(11)], depthLimit())).toEqual([]);
  });
});

describe('evidence as it is stored', () => {
  const stored = (change: (evidence: Evidence) => void) => {
    const evidence = soundEvidence();
    change(evidence);
    return Evidence.safeParse(evidence).success;
  };

  test('takes readings by gauge and from photos, and tests by other means than the eye', () => {
    expect(stored((e) => part(e, 'rim base').readings.push(photo(11)))).toBe(true);
    expect(stored((e) => Object.assign(part(e, 'rim base').tests[0] ?? {}, { method: 'penetrant' }))).toBe(
      true,
    );
    expect(stored((e) => Object.assign(part(e, 'rim base').tests[0] ?? {}, { method: 'visual' }))).toBe(
      false,
    );
  });

  test('names its moment to the millisecond', () => {
    expect(stored((e) => Object.assign(e, { decidedAt: '2026-11-02T09:30:00.000Z' }))).toBe(true);
    expect(stored((e) => Object.assign(e, { decidedAt: '2026-11-02T09:30:00Z' }))).toBe(false);
  });
});
