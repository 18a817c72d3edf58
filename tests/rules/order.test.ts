import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../lib/base/index.ts';
import { inOrder, naturally } from '../../lib/rules/order.ts';
import { part, reading, soundEvidence } from '../support/evidence.ts';

/** The order of each list is our own choice; what matters is that there is one. */
describe('the order of evidence', () => {
  const ids = (list: readonly { id: string }[]) => list.map((one) => one.id);

  test('ids stand shorter first and then by code unit, so that 2 comes before 10', () => {
    const given = ['r10', 'r2', 'r1', 'ra', 'r11', 'a'].map((id) => ({ id }));
    expect(ids(naturally(given))).toEqual(['a', 'r1', 'r2', 'ra', 'r10', 'r11']);
    expect(ids(given)).toEqual(['r10', 'r2', 'r1', 'ra', 'r11', 'a']);
  });

  test('entries with one id stand in the order of what they say', () => {
    const [low, high] = [reading({ valueMm: 10 }), reading({ valueMm: 11 })];
    expect(naturally([high, low])).toEqual([low, high]);
    expect(naturally([low, high])).toEqual([low, high]);
  });

  test('photos, readings, defects and tests of a part stand by their ids, whichever way round they came', () => {
    const evidence = soundEvidence();
    const base = part(evidence, 'rim base');
    const defect = {
      defect: 'wear' as const,
      zone: 'gutter lip' as const,
      clock: null,
      method: 'visual' as const,
      note: '',
      lengthMm: null,
      areaMm2: null,
    };
    const tested = {
      method: 'penetrant' as const,
      result: 'no indication' as const,
      on: '2026-01-01',
      standard: '',
    };
    base.photos = [
      { id: 'p2', zone: 'gutter lip' },
      { id: 'p1', zone: 'gutter groove' },
    ];
    base.readings = [reading({ id: 'r2' }), reading({ id: 'r1' })];
    base.defects = [
      { ...defect, id: 'd2' },
      { ...defect, id: 'd1' },
    ];
    base.tests = [
      { ...tested, id: 't2', zones: ['gutter weld', 'gutter groove'] },
      { ...tested, id: 't1', zones: ['gutter lip'] },
    ];
    const ordered = part(inOrder(evidence), 'rim base');
    expect([ordered.photos, ordered.readings, ordered.defects, ordered.tests].map(ids)).toEqual([
      ['p1', 'p2'],
      ['r1', 'r2'],
      ['d1', 'd2'],
      ['t1', 't2'],
    ]);
    // Zones of a test as the trade's list of zones has them.
    expect(ordered.tests[1]?.zones).toEqual(['gutter groove', 'gutter weld']);
  });

  test('looks stand by zone; of two at one zone "could not be seen" is the first', () => {
    const evidence = soundEvidence();
    part(evidence, 'lock ring').looks = [
      { zone: 'ring ends', result: 'nothing seen' },
      { zone: 'ring body', result: 'nothing seen' },
      { zone: 'ring ends', result: 'could not be seen' },
    ];
    expect(part(inOrder(evidence), 'lock ring').looks).toEqual([
      { zone: 'ring body', result: 'nothing seen' },
      { zone: 'ring ends', result: 'could not be seen' },
      { zone: 'ring ends', result: 'nothing seen' },
    ]);
  });

  test('gate questions stand as they are asked, parts by slot and then by what they say', () => {
    const evidence = soundEvidence();
    const [base, ring] = [part(evidence, 'rim base'), part(evidence, 'lock ring')];
    const worn = { ...base, stamp: 'A' };
    const ordered = inOrder({
      ...evidence,
      gateOpen: ['trajectory clear', 'machine locked out', 'dual considered'],
      parts: [base, worn, ring],
    });
    expect(ordered.gateOpen).toEqual(['dual considered', 'machine locked out', 'trajectory clear']);
    expect(ordered.parts.map((one) => [one.slot, one.stamp])).toEqual([
      ['lock ring', ring.stamp],
      ['rim base', 'A'],
      ['rim base', base.stamp],
    ]);
  });

  test('what lies elsewhere stands by component and sort, assembly points by name with "no" last', () => {
    const evidence = soundEvidence();
    const ordered = inOrder({
      ...evidence,
      elsewhere: [
        { component: 'a', what: 'photo' },
        { component: 'b', what: 'look' },
        { component: 'a', what: 'mark' },
      ],
      assembly: [
        { point: 'new O-ring', answer: 'no' },
        { point: 'new O-ring', answer: 'yes' },
        { point: 'grooves clean', answer: 'yes' },
      ],
    });
    expect(ordered.elsewhere.map((one) => `${one.component} ${one.what}`)).toEqual([
      'a mark',
      'a photo',
      'b look',
    ]);
    expect(ordered.assembly.map((one) => `${one.point} ${one.answer}`)).toEqual([
      'grooves clean yes',
      'new O-ring yes',
      'new O-ring no',
    ]);
  });

  test('the evidence given is left as it was', () => {
    const evidence = soundEvidence();
    evidence.parts.reverse();
    const before = canonicalJson(evidence);
    inOrder(evidence);
    expect(canonicalJson(evidence)).toBe(before);
  });
});
