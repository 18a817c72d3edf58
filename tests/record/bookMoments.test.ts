import { describe, expect, it } from 'vitest';
import {
  bookMoments,
  type Entry,
  foldInspection,
  foldRegister,
  inspectionAt,
  kinds,
} from '../../lib/record/index.ts';
import {
  at,
  BASE,
  entry,
  FITTING,
  INSPECTION,
  REMOVAL,
  RING,
  STAMPS,
  thing,
  WHEEL,
} from '../support/entries.ts';

const DAY_MS = 86_400_000;
const LATER = thing(4);
const OTHER_WHEEL = thing(5);

function place(machine: string, day: number): Entry {
  const body = {
    tag: '4K7-P3F',
    machine,
    position: 'left front',
    construction: 'five-piece' as const,
    designation: '25.00-49/3.5',
    maker: '',
    series: '',
    dual: false,
  };
  return entry(kinds.wheelDescribed, WHEEL, body, { ms: day * DAY_MS });
}

function part(id: string, kind: 'rim base' | 'lock ring', serial: string, day: number): Entry[] {
  const named = { componentKind: kind, maker: '', series: '', stamp: 'X' };
  return [
    entry(kinds.componentDescribed, id, { ...named, ...STAMPS, serial }, { ms: day * DAY_MS }),
    entry(kinds.componentFitted, id, { ...FITTING, wheel: WHEEL, slot: kind }, { ms: day * DAY_MS + 1000 }),
  ];
}

const repair = (on: string) => ({
  zones: ['gutter groove' as const],
  what: 'groove machined',
  procedure: '',
  by: 'a shop',
  on,
});

const dayOf = (day: number) => at(day * DAY_MS).slice(0, 10);

const REGISTER = [
  place('HT-01', 0),
  ...part(BASE, 'rim base', 'B1', 1),
  ...part(RING, 'lock ring', 'R1', 1),
  place('HT-01', 2),
  entry(kinds.repairRecorded, BASE, repair(dayOf(30)), { ms: 40 * DAY_MS }),
  entry(kinds.componentRemoved, RING, { ...REMOVAL, wheel: WHEEL, reason: 'worn' }, { ms: 50 * DAY_MS }),
  entry(
    kinds.componentFitted,
    RING,
    { ...FITTING, wheel: OTHER_WHEEL, slot: 'lock ring' },
    { ms: 51 * DAY_MS },
  ),
  entry(kinds.repairRecorded, RING, repair(dayOf(60)), { ms: 61 * DAY_MS }),
  place('HT-02', 70),
];

const open = (id: string, day: number) =>
  foldInspection([
    entry(kinds.inspectionOpened, id, { wheel: WHEEL, reason: 'Yearly' }, { ms: day * DAY_MS }),
  ]);
const INSPECTIONS = [open(LATER, 45), open(INSPECTION, 10)];

describe('moments of a wheel', () => {
  const register = foldRegister(REGISTER);
  const wheel = register.wheels.get(WHEEL);
  const moments = wheel === undefined ? [] : bookMoments(wheel, INSPECTIONS, register);

  it('come in order of time, whatever they are of', () => {
    expect(moments.map(({ at: when, what }) => [when.slice(0, 10), what])).toEqual([
      [dayOf(0), 'placed'],
      [dayOf(1), 'fitted'],
      [dayOf(10), 'inspection begun'],
      [dayOf(30), 'repaired'],
      [dayOf(45), 'inspection begun'],
      [dayOf(50), 'taken out'],
      [dayOf(70), 'placed'],
    ]);
  });

  it('take parts fitted on one day as one', () => {
    expect(moments[1]?.words).toEqual(['rim base: B1', 'lock ring: R1']);
  });

  it('leave out what a part went through elsewhere, and a description that moves nothing', () => {
    expect(moments.filter(({ what }) => what === 'repaired')).toHaveLength(1);
    expect(wheel?.placings.map(({ machine }) => machine)).toEqual(['HT-01', 'HT-02']);
  });

  it('say the same whatever the order in which entries arrive', () => {
    const backwards = foldRegister([...REGISTER].reverse());
    const again = backwards.wheels.get(WHEEL);
    expect(again === undefined ? [] : bookMoments(again, [...INSPECTIONS].reverse(), backwards)).toEqual(
      moments,
    );
  });
});

describe('the inspection of a moment', () => {
  it('is the newest that had been begun', () => {
    expect(inspectionAt(INSPECTIONS, at(9 * DAY_MS))).toBeNull();
    expect(inspectionAt(INSPECTIONS, at(10 * DAY_MS))?.id).toBe(INSPECTION);
    expect(inspectionAt(INSPECTIONS, at(44 * DAY_MS))?.id).toBe(INSPECTION);
    expect(inspectionAt(INSPECTIONS, at(99 * DAY_MS))?.id).toBe(LATER);
  });
});
