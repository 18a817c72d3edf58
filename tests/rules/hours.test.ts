import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import {
  bodyOf,
  checkEntry,
  type Entry,
  foldInspection,
  foldRegister,
  kinds,
} from '../../lib/record/index.ts';
import { gatherEvidence } from '../../lib/rules/index.ts';
import { BASE, entry, FITTING, INSPECTION, STAMPS, WHEEL } from '../support/entries.ts';

const wheel = entry(
  kinds.wheelDescribed,
  WHEEL,
  {
    tag: '4K7-P3F',
    designation: '25-17.00/2.0',
    construction: 'three-piece',
    maker: '',
    series: '',
    machine: '',
    position: '',
    dual: false,
  },
  { ms: 0 },
);
const base = [
  entry(
    kinds.componentDescribed,
    BASE,
    { componentKind: 'rim base', maker: '', series: '', stamp: '', ...STAMPS },
    { ms: 1 },
  ),
  entry(kinds.componentFitted, BASE, { wheel: WHEEL, slot: 'rim base', ...FITTING }, { ms: 2 }),
];
const hours = (count: number, ms: number, on = '2026-10-01') =>
  entry(kinds.dutyHoursNoted, BASE, { hours: count, giveOrTakeHours: 300, basis: 'estimate', on }, { ms });
const tested = (dutyHours: number | null, ms: number) =>
  entry(
    kinds.testRecorded,
    BASE,
    {
      method: 'ultrasonic',
      zones: ['gutter groove'],
      result: 'no indication',
      standard: 'ASTM E114',
      testedBy: 'level 2',
      on: '2026-08-01',
      surface: '',
      inspection: null,
      dutyHours,
    },
    { ms },
  );
const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }, { ms: 3 });

function rimBase(...more: readonly Entry[]) {
  const register = foldRegister([wheel, ...base, ...more]);
  const state = foldInspection([opened]);
  const evidence = gatherEvidence(
    state,
    must(register.wheels.get(WHEEL), 'the wheel'),
    register,
    '2026-10-01T00:00:00.000Z',
  );
  return must(evidence.parts[0], 'the rim base');
}

describe('hours on duty of a part', () => {
  test('are not known until somebody notes them', () => {
    expect(rimBase()).not.toHaveProperty('dutyHours');
    expect(rimBase(hours(9000, 10, '2026-10-02'))).not.toHaveProperty('dutyHours');
  });

  test('are those of the newest day, whenever they were noted; of one day the last word counts', () => {
    expect(rimBase(hours(9000, 10), hours(4000, 20, '2023-01-01')).dutyHours?.value).toBe(9000);
    expect(rimBase(hours(9000, 10), hours(9100, 20)).dutyHours?.value).toBe(9100);
  });

  test('have the uncertainty of a rectangular law over what they may be off, JCGM 100 4.3.7', () => {
    expect(rimBase(hours(9000, 10)).dutyHours?.u).toBeCloseTo(300 / Math.sqrt(3), 9);
  });

  test('grow old: since their day there may have been none or 24 a day', () => {
    const { dutyHours } = rimBase(hours(9000, 10, '2026-09-21'));
    expect(dutyHours?.value).toBe(9000 + 120);
    expect(dutyHours?.u).toBeCloseTo(Math.hypot(300 / Math.sqrt(3), 240 / Math.sqrt(12)), 9);
  });

  test('are not known where they fall from one day to a later one by more than they may be off', () => {
    expect(rimBase(hours(9000, 10, '2026-09-01'), hours(8000, 20))).not.toHaveProperty('dutyHours');
    expect(rimBase(hours(9000, 10, '2026-09-01'), hours(8400, 20)).dutyHours?.value).toBe(8400);
  });

  test('of the day of a test go with the test, where they were known', () => {
    expect(rimBase(tested(8500, 10)).tests).toMatchObject([{ dutyHours: 8500 }]);
    expect(rimBase(tested(null, 10)).tests[0]).not.toHaveProperty('dutyHours');
  });

  test('are not known of a test recorded before they were asked for', () => {
    const { dutyHours: _, ...before } = tested(null, 10).body;
    const old = { ...tested(null, 10), v: 1, body: before };
    const checked = checkEntry(old);
    expect(checked.ok && bodyOf(checked.value)).toEqual({ ...before, dutyHours: null });
    expect(rimBase(old).tests[0]).not.toHaveProperty('dutyHours');
  });
});
