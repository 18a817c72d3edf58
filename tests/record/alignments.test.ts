import { describe, expect, it } from 'vitest';
import { must } from '../../lib/base/index.ts';
import {
  checkEntry,
  foldAlignments,
  foldRegister,
  kinds,
  lineOf,
  photoPairKey,
} from '../../lib/record/index.ts';
import { BASE, entry, STAMPS } from '../support/entries.ts';

const [A, B] = ['a'.repeat(64), 'b'.repeat(64)];
const side = (photo: string) => ({ photo, widthPx: 1600, heightPx: 1200 });
const body = (medianPx: number | null, from = A, to = B) => ({
  from: side(from),
  to: side(to),
  zone: 'gutter weld' as const,
  method: 'features' as const,
  homography: [1, 0, 0, 0, 1, 0, 0, 0, 1],
  net: null,
  back: null,
  medianPx,
  p95Px: medianPx,
  inliers: 200,
  overlapShare: 0.8,
  points: [],
});

describe('photos laid over each other', () => {
  it('keeps of each pair the newest, whichever photo it started from and in whatever order entries arrive', () => {
    const first = entry(kinds.photosAligned, BASE, body(2), { ms: 10 });
    const second = entry(kinds.photosAligned, BASE, body(1, B, A), { ms: 20 });
    for (const order of [
      [first, second],
      [second, first],
      [second, first, second],
    ]) {
      const folded = foldAlignments(order);
      expect(folded.size).toBe(1);
      expect(must(folded.get(photoPairKey(A, B)), 'pair').value.medianPx).toBe(1);
      expect(folded.get(photoPairKey(B, A))?.entry).toBe(second.id);
    }
  });

  it('makes nobody a writer of the part’s register', () => {
    const described = entry(
      kinds.componentDescribed,
      BASE,
      { componentKind: 'rim base', maker: '', series: '', stamp: '', ...STAMPS },
      { ms: 1 },
    );
    const laid = entry(kinds.photosAligned, BASE, body(2), { ms: 10, author: 'reviewer-1' });
    const state = must(foldRegister([described, laid]).components.get(BASE), 'part');
    expect(state.writers.map(({ author }) => author)).toEqual(['inspector-1']);
  });

  it.each([
    ['a photo laid over itself', body(1, A, A)],
    ['by hand with two pairs', { ...body(1), method: 'three points', points: [] }],
    ['a homography of noughts', { ...body(1), homography: new Array(9).fill(0) }],
    [
      'a net with a shift missing',
      { ...body(1), net: { columns: 2, rows: 2, shiftsPx: [[0, 0]], known: [true] } },
    ],
  ])('refuses %s', (_, wrong) => {
    const good = entry(kinds.photosAligned, BASE, body(1));
    expect(checkEntry(good).ok).toBe(true);
    expect(checkEntry({ ...good, body: wrong }).ok).toBe(false);
  });

  it('says in plain words how and how well', () => {
    const names = { person: String, component: String, wheel: String, instrument: String };
    expect(lineOf(entry(kinds.photosAligned, BASE, body(2.34)), names)).toBe(
      'Photos aaaaaaaa and bbbbbbbb of gutter weld laid over each other by what both show, half of the places within 2.3 px',
    );
  });
});
