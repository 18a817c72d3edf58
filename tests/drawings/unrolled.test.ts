import { describe, expect, test } from 'vitest';
import { byWeight, type Item, layOut, shareOfRound, tokensOf, unroll } from '../../app/_drawings/unrolled.ts';
import type { Mark } from '../../lib/marks/index.ts';
import { foldInspection, type InspectionState, type Written } from '../../lib/record/index.ts';
import { constructionOf } from '../../lib/wheel/index.ts';
import { depthBody } from '../support/entries.ts';

const RIM = '00000000-0000-4000-8000-000000000001';
const RING = '00000000-0000-4000-8000-000000000002';
const STRAY = '00000000-0000-4000-8000-000000000003';
const PHOTO = 'a'.repeat(64);
const NAMES: Readonly<Record<string, string>> = { [RIM]: 'rim base', [RING]: 'lock ring' };
const slotName = (component: string) => NAMES[component] ?? 'part in no slot';
const five = constructionOf('five-piece');

function written<T>(value: T): Written<T> {
  return { value, entry: 'e', at: '2026-03-01T08:00:00.000Z', author: 'p' };
}

function reading(id: string, clock: number | null, valueMm: number) {
  return written({ ...depthBody(id, RIM, valueMm), clock });
}

function mark(id: string, component: string, zone: Mark['zone'], clock: number | null) {
  return written({
    mark: id,
    photo: PHOTO,
    shape: { form: 'spot' as const, at: [1, 1] as [number, number] },
    defect: 'crack' as const,
    component,
    zone,
    clock,
    method: 'visual' as const,
    note: '',
  });
}

function photo(clock: number | null) {
  return written({
    photo: PHOTO,
    name: 'groove.jpg',
    bytes: 10,
    widthPx: 4,
    heightPx: 3,
    component: RIM,
    zone: 'gutter groove' as const,
    clock,
  });
}

function stateWith(part: Partial<InspectionState>): InspectionState {
  return { ...foldInspection([]), ...part };
}

function rowOf(state: InspectionState, slot: string, zone: string) {
  return unroll(five, state, slotName)
    .find((group) => group.slot === slot)
    ?.rows.find((row) => row.zone === zone);
}

describe('the flat rim', () => {
  test('has a row for every zone of every inspected part', () => {
    expect(
      unroll(five, stateWith({}), slotName).map(({ slot, rows }) => [slot, rows.map(({ zone }) => zone)]),
    ).toEqual(
      five.slots
        .filter((slot) => slot.inspected)
        .map((slot) => [slot.slot, slot.zones.map(({ zone }) => zone)]),
    );
  });

  test('puts a mark without a clock where its photo was taken, and says so', () => {
    const marks = new Map([['m', mark('m', RIM, 'gutter groove', null)]]);
    const row = rowOf(
      stateWith({ marks, photos: new Map([[PHOTO, photo(4.5)]]) }),
      'rim base',
      'gutter groove',
    );
    expect(row?.items.map(({ what, clock }) => [what, clock])).toEqual([
      ['mark', 4.5],
      ['photo', 4.5],
    ]);
    expect(row?.items[0]?.words).toContain('as its photo');
  });

  test('keeps what has no clock as unplaced', () => {
    const state = stateWith({ readings: new Map([['r', reading('r', null, 8.5)]]) });
    expect(
      rowOf(state, 'rim base', 'gutter groove')?.items.map(({ clock, figure }) => [clock, figure]),
    ).toEqual([[null, '8.5']]);
  });

  test('drops nothing: parts in no slot and unknown zones get rows of their own', () => {
    const state = stateWith({
      marks: new Map([
        ['m1', mark('m1', STRAY, 'gutter groove', 3)],
        ['m2', mark('m2', RING, 'somewhere else' as Mark['zone'], 3)],
      ]),
    });
    expect(rowOf(state, 'part in no slot', 'gutter groove')?.items).toHaveLength(1);
    expect(rowOf(state, 'lock ring', 'somewhere else')?.items).toHaveLength(1);
  });

  test('tells what the eye said, and where nobody looked', () => {
    const value = {
      component: RIM,
      zone: 'gutter lip' as const,
      result: 'could not be seen' as const,
      note: '',
    };
    const state = stateWith({ looks: new Map([['k', written(value)]]) });
    expect(rowOf(state, 'rim base', 'gutter lip')?.look).toBe('could not be seen');
    expect(rowOf(state, 'rim base', 'gutter weld')?.look).toBeNull();
  });
});

function item(id: string, more: Partial<Item> = {}): Item {
  return {
    id,
    what: 'reading',
    slot: 'rim base',
    zone: 'gutter groove',
    clock: 3,
    figure: '8.5',
    defect: null,
    photo: null,
    words: id,
    class: null,
    ...more,
  };
}

describe('things at one clock position', () => {
  test('stand each on its own while there is room', () => {
    expect(tokensOf([item('a'), item('b')], 2).map(({ items }) => items.length)).toEqual([1, 1]);
  });

  test('go behind a count that loses none of them', () => {
    const items = ['a', 'b', 'c', 'd'].map((id) => item(id));
    const tokens = tokensOf(items, 3);
    expect(tokens.map((token) => token.items.length)).toEqual([1, 1, 2]);
    expect(tokens.flatMap((token) => token.items)).toHaveLength(4);
  });

  test('show the worst first', () => {
    const sorted = [
      item('plain'),
      item('photo', { what: 'photo' }),
      item('bad', { class: 'scrap' }),
      item('mark', { what: 'mark' }),
    ];
    expect(sorted.sort(byWeight).map(({ id }) => id)).toEqual(['bad', 'mark', 'plain', 'photo']);
  });
});

describe('the track', () => {
  const wide = () => 30;

  test('begins and ends at the valve', () => {
    expect([12, 3, 6, 9, 0.5].map(shareOfRound)).toEqual([0, 0.25, 0.5, 0.75, 0.5 / 12]);
    const { placed } = layOut(tokensOf([item('a', { clock: 12 })], 3), 340, 20, wide);
    expect(placed.map(({ middle, again }) => [middle, again])).toEqual([
      [20, false],
      [320, true],
    ]);
  });

  test('puts what would touch one lane down', () => {
    const { placed, lanes } = layOut(
      tokensOf([item('a', { clock: 3 }), item('b', { clock: 3.5 }), item('c', { clock: 6 })], 3),
      340,
      20,
      wide,
    );
    expect(placed.map(({ token, lane }) => [token.key, lane])).toEqual([
      ['a', 0],
      ['b', 1],
      ['c', 0],
    ]);
    expect(lanes).toBe(2);
  });

  test('keeps every token inside, however wide', () => {
    const { placed } = layOut(tokensOf([item('a', { clock: 12 })], 3), 340, 20, () => 60);
    for (const { middle } of placed) {
      expect(middle - 30).toBeGreaterThanOrEqual(0);
      expect(middle + 30).toBeLessThanOrEqual(340);
    }
  });

  test('leaves what has no clock to the column beside it', () => {
    expect(layOut(tokensOf([item('a', { clock: null })], 3), 340, 20, wide).placed).toEqual([]);
  });
});
