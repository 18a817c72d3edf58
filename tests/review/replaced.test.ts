import { describe, expect, it } from 'vitest';
import { componentsIn, type Entry, foldInspection, foldRegister, kinds } from '../../lib/record/index.ts';
import { replacedSince } from '../../lib/review/index.ts';
import { at, BASE, entry, FITTING, INSPECTION, REMOVAL, STAMPS, thing, WHEEL } from '../support/entries.ts';

const OTHER = thing(20);

function fitted(id: string, ms: number): Entry[] {
  const described = { componentKind: 'rim base' as const, maker: '', series: '', stamp: 'B', ...STAMPS };
  return [
    entry(kinds.componentDescribed, id, described, { ms }),
    entry(kinds.componentFitted, id, { ...FITTING, wheel: WHEEL, slot: 'rim base' }, { ms: ms + 1 }),
  ];
}

const inspection = foldInspection([
  entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }, { ms: 100 }),
  entry(
    kinds.inspectionSubmitted,
    INSPECTION,
    { covers: [thing(90)], verdict: { parts: [{ slot: 'rim base', component: BASE, result: 'keep' }] } },
    { ms: 200 },
  ),
]);

describe('a slot whose part changed since the submission', () => {
  const removed = { ...REMOVAL, wheel: WHEEL, reason: 'worn' };
  const changed = foldRegister([...fitted(BASE, 1), ...fitted(OTHER, 300)]);

  it('is named, so that the keep of the part before holds for no other', () => {
    expect(replacedSince(inspection, componentsIn(WHEEL, changed), changed)).toEqual(['rim base']);
  });

  it('is not named at a moment when the part was still there', () => {
    expect(replacedSince(inspection, componentsIn(WHEEL, changed, at(150)), changed)).toEqual([]);
  });

  it('is named when nothing is there', () => {
    const empty = foldRegister([
      ...fitted(BASE, 1),
      entry(kinds.componentRemoved, BASE, removed, { ms: 400 }),
    ]);
    expect(replacedSince(inspection, componentsIn(WHEEL, empty), empty)).toEqual(['rim base']);
  });

  it('is not named when both are records of one part', () => {
    const merged = foldRegister([
      ...fitted(BASE, 1),
      ...fitted(OTHER, 300),
      entry(kinds.componentMerged, BASE, { into: OTHER, reason: 'same stamp' }, { ms: 500 }),
    ]);
    expect(replacedSince(inspection, componentsIn(WHEEL, merged), merged)).toEqual([]);
  });
});
