import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Evidence, evaluate } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { defect, part, reading, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const asks = (state: string) => ({
  row: 'inflated',
  type: 'evidence',
  components: ['lock ring'],
  ask: { what: 'reading', characteristic: 'lock-ring gap', positions: [], repeats: 1, state },
  source: testSource,
});
const limit = {
  row: 'gap',
  type: 'limit',
  components: ['lock ring'],
  characteristic: 'lock-ring gap',
  states: ['inflated'],
  keep: { min: 2, max: 10 },
  repair: null,
  methods: ['gauge'],
  source: testSource,
};

function judged(change: (evidence: Evidence) => void = () => {}, state = 'inflated') {
  const evidence = soundEvidence();
  change(evidence);
  const verdict = evaluate(evidence, [...demonstration, tableOf([asks(state), limit])]);
  const ring = must(
    verdict.parts.find((one) => one.slot === 'lock ring'),
    'lock ring',
  );
  return { ring: ring.result, fit: verdict.assembly.fit };
}
const gapInflated = (over: object) => (e: Evidence) =>
  part(e, 'lock ring').readings.push(
    reading({
      id: 'x',
      characteristic: 'lock-ring gap',
      zone: 'ring ends',
      clock: null,
      state: 'inflated',
      ...over,
    }),
  );

/** A gap under pressure can be read only once the set is together: our own specification, no source. */
describe('the gap of the lock ring in the state "inflated"', () => {
  test('still to be read holds the ring, and does not keep the set from going together', () => {
    expect(judged()).toEqual({ ring: 'hold', fit: true });
  });

  test('anything else missing does', () => {
    expect(judged((e) => part(e, 'lock ring').looks.pop())).toEqual({ ring: 'hold', fit: false });
    expect(judged((e) => part(e, 'rim base').looks.pop())).toEqual({ ring: 'hold', fit: false });
    const unmeasured = (e: Evidence) => {
      const ring = part(e, 'lock ring');
      ring.readings = ring.readings.filter((one) => one.state !== 'fitted');
    };
    expect(judged(unmeasured, 'fitted')).toEqual({ ring: 'hold', fit: false });
  });

  test('so does a finding that is not keep', () => {
    const change = (e: Evidence) =>
      part(e, 'lock ring').defects.push(defect({ defect: 'bent', zone: 'ring body' }));
    expect(judged(change).fit).toBe(false);
  });

  test('read within its limit the ring is kept; beyond it, or by an instrument out of calibration, the set is not fit', () => {
    expect(judged(gapInflated({ valueMm: 6 }))).toEqual({ ring: 'keep', fit: true });
    expect(judged(gapInflated({ valueMm: 12 }))).toEqual({ ring: 'scrap', fit: false });
    const instrument = { name: 'old', calibrationDue: '2020-01-01', expired: true };
    expect(judged(gapInflated({ valueMm: 6, instrument })).fit).toBe(false);
  });
});
