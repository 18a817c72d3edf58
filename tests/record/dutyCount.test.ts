import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import {
  componentBehind,
  componentsIn,
  type Entry,
  foldRegister,
  kinds,
  staysOnDuty,
} from '../../lib/record/index.ts';
import { BASE, entry, FITTING, REMOVAL, SITE, STAMPS, thing, WHEEL } from '../support/entries.ts';

const OTHER_WHEEL = thing(50);
const described = (id: string, over: Partial<typeof STAMPS & { stamp: string }> = {}) =>
  entry(kinds.componentDescribed, id, {
    componentKind: 'rim base',
    maker: 'Quillmoor Rimworks',
    series: 'QX',
    stamp: 'QX 1',
    ...STAMPS,
    ...over,
  });
type Fitting = z.input<typeof kinds.componentFitted.body>;
const fitted = (id: string, on: string, over: Partial<Fitting>) =>
  entry(kinds.componentFitted, id, { wheel: WHEEL, slot: 'rim base', ...FITTING, on, ...over });
const removed = (id: string, on: string, machineHours: number | null, wheel = WHEEL) =>
  entry(kinds.componentRemoved, id, { wheel, reason: 'tyre change', ...REMOVAL, on, machineHours });
const meter = (machine: string, on: string, hours: number) =>
  entry(kinds.machineHoursRead, SITE, { machine, on, hours });

const two = [
  described(BASE),
  fitted(BASE, '2024-01-10', { machine: 'HT-01', machineHours: 12_000, partHours: 0 }),
  removed(BASE, '2025-01-10', 15_500),
  fitted(BASE, '2025-02-01', { machine: 'WL-03', machineHours: 800, wheel: OTHER_WHEEL }),
];
const hoursOf = (entries: readonly Entry[]) => foldRegister(entries).components.get(BASE)?.hoursNoted ?? [];

describe('hours on duty follow the part through wheels and machines', () => {
  test('3 500 h on one machine and 1 200 h on the next make 4 700 h', () => {
    const noted = hoursOf([...two, meter('WL-03', '2025-11-01', 2_000)]);
    expect(noted.map(({ hours, on, basis }) => [hours, on, basis])).toEqual([
      [3_500, '2025-01-10', 'meter of the machine'],
      [4_700, '2025-11-01', 'meter of the machine'],
    ]);
  });

  test('the order in which the entries arrive, and repetition, do not matter', () => {
    const all = [...two, meter('WL-03', '2025-11-01', 2_000), meter('WL-03', '2025-06-01', 1_300)];
    expect(hoursOf([...all, ...all].reverse())).toEqual(hoursOf(all));
    expect(hoursOf(all).at(-1)?.hours).toBe(4_700);
  });

  const reasons: [name: string, entries: Entry[], why: string][] = [
    ['no reading since', two, 'the meter has not been read since'],
    [
      'no meter at the fitting',
      [described(BASE), fitted(BASE, '2024-01-10', { machine: 'HT-01' })],
      'the meter was not read when it was fitted',
    ],
    [
      'no machine named',
      [described(BASE), fitted(BASE, '2024-01-10', {})],
      'nobody said which machine it was on',
    ],
    [
      'a meter that runs backwards',
      [...two, meter('WL-03', '2025-11-01', 10)],
      'the meter shows less than before: it was changed, or misread',
    ],
  ];
  test.each(reasons)('%s: not counted, and why', (_name, entries, why) => {
    const register = foldRegister(entries);
    const stays = staysOnDuty(register.components.get(BASE)?.fitments ?? [], register.meters);
    expect(stays.at(-1)).toMatchObject({ hours: null, total: null, why });
  });

  test('a total that was lost is there again once somebody says it at a fitting', () => {
    const lost = [
      described(BASE),
      fitted(BASE, '2024-01-10', { machine: 'HT-01', partHours: 0 }),
      removed(BASE, '2025-01-10', 15_500),
    ];
    expect(hoursOf(lost)).toEqual([]);
    const found = [
      ...lost,
      fitted(BASE, '2025-02-01', { machine: 'WL-03', machineHours: 800, partHours: 3_000 }),
    ];
    expect(hoursOf([...found, meter('WL-03', '2025-11-01', 900)]).map(({ hours }) => hours)).toEqual([3_100]);
  });

  test('in a wheel on no machine the part runs no hours', () => {
    const idle = [
      described(BASE),
      fitted(BASE, '2024-01-10', { machine: '', partHours: 40 }),
      removed(BASE, '2025-01-10', null),
    ];
    expect(hoursOf(idle).map(({ hours }) => hours)).toEqual([40]);
  });
});

describe('two records of one part', () => {
  const TWIN = thing(60);
  const merged = [
    ...two.slice(0, 3),
    described(TWIN, { stamp: 'QX I' }),
    fitted(TWIN, '2025-02-01', { machine: 'WL-03', machineHours: 800 }),
    entry(kinds.componentMerged, TWIN, { into: BASE, reason: 'same stamp, misread' }),
    meter('WL-03', '2025-11-01', 2_000),
  ];
  const register = foldRegister(merged);

  test('are one in the wheel, with the stays and the hours of both', () => {
    expect(componentsIn(WHEEL, register).get('rim base')?.id).toBe(BASE);
    const base = register.components.get(BASE);
    expect(base?.fitments).toHaveLength(2);
    expect(base?.hoursNoted.at(-1)?.hours).toBe(4_700);
    expect(base?.merged).toEqual([TWIN]);
  });

  test('stay both in the record, and either id leads to the part', () => {
    expect(register.components.get(TWIN)?.mergedInto).toBe(BASE);
    expect(componentBehind(register, TWIN)).toBe(BASE);
    expect(componentBehind(register, BASE)).toBe(BASE);
    expect(componentBehind(register, thing(99))).toBe(thing(99));
  });

  test('merged into each other by two people do not run in circles', () => {
    const ring = [...merged, entry(kinds.componentMerged, BASE, { into: TWIN, reason: 'the other way' })];
    expect(() => foldRegister(ring)).not.toThrow();
  });
});

describe('parts as earlier versions wrote them', () => {
  const old = (kind: string, body: Record<string, unknown>): Entry => ({
    ...described(BASE),
    id: thing(0).replace('4000', '7000'),
    kind,
    v: 1,
    body,
  });
  const first = { componentKind: 'rim base', maker: 'M', series: '', stamp: 'QX 1', madeOn: '2019-04' };
  const read = (body: Record<string, unknown>) =>
    foldRegister([old('component described', body)]).components.get(BASE);

  test('a date of making is known, none is unknown, and no stamp means that nobody could read one', () => {
    expect(read(first)).toMatchObject({
      made: { how: 'known', on: '2019-04' },
      identity: 'identified',
      serial: '',
    });
    expect(read({ ...first, madeOn: null, stamp: '' })).toMatchObject({
      made: { how: 'unknown' },
      identity: 'cannot be identified',
    });
  });

  test('a fitting says nothing of meters, so nothing is counted', () => {
    const part = foldRegister([
      described(BASE),
      {
        ...old('component fitted', { wheel: WHEEL, slot: 'rim base' }),
        id: thing(1).replace('4000', '7000'),
      },
    ]).components.get(BASE);
    expect(part?.fitments[0]).toMatchObject({ machine: null, machineHours: null, partHours: null });
    expect(part?.hoursNoted).toEqual([]);
  });
});
