import { growthOf, shapeOver } from '../../../lib/history/index.ts';
import type { Alignment, Net, PointPair } from '../../../lib/photo/index.ts';
import type { ZoneId } from '../../../lib/wheel/index.ts';
import type { Lettered } from './GrowthTable.tsx';
import type { PaintedMark } from './paintPair.ts';
import type { useDated } from './useDated.ts';
import type { Laid } from './useLaid.ts';
import type { Side } from './usePair.ts';

type Dated = ReturnType<typeof useDated>;

/** What became of each mark, with the letter that stands on the photo. */
export function rowsOf(laid: Laid | null, dated: Dated): Lettered[] {
  if (laid === null || dated === null) return [];
  return growthOf(laid.alignment.map, laid.way, dated[0], dated[1]).map((growth, i) => ({
    letter: String.fromCharCode(65 + (i % 26)) + (i < 26 ? '' : Math.floor(i / 26)),
    growth,
  }));
}

/** Marks as they are painted: all on the base, and each on its own photo. */
export function paintedOf(rows: readonly Lettered[], { alignment: { map }, way }: Laid) {
  const own = (date: PaintedMark['date']) =>
    rows.flatMap(({ letter, growth }): PaintedMark[] => {
      const mark = growth[date];
      return mark === null ? [] : [{ shape: mark.shape, letter, date }];
    });
  const [earlier, later] = [own('earlier'), own('later')];
  const [base, other] = way === 'forth' ? [earlier, later] : [later, earlier];
  const laidOver = other.flatMap((mark): PaintedMark[] => {
    const over = shapeOver(map, mark.shape, 'back');
    return over === null ? [] : [{ ...mark, shape: over.shape }];
  });
  return { laid: [...base, ...laidOver], base, other };
}

/** Px of the pictures drawn per px of the photos: of the base and of the other one. */
export function factorsOf(
  { alignment: { map } }: Laid,
  { first, second }: { first: ImageBitmap; second: ImageBitmap },
): readonly [number, number] {
  return [first.width / map.from.widthPx, second.width / map.to.widthPx];
}

/** The body of the entry that keeps an alignment. */
export function bodyOf(
  { map, method, medianPx, p95Px, inliers, overlapShare }: Alignment,
  [first, second]: readonly [Side, Side],
  zone: ZoneId,
  pairs: readonly PointPair[],
) {
  return {
    from: { photo: first.photo, widthPx: map.from.widthPx, heightPx: map.from.heightPx },
    to: { photo: second.photo, widthPx: map.to.widthPx, heightPx: map.to.heightPx },
    zone,
    method,
    homography: [...map.homography],
    net: netBody(map.net),
    back: map.back ? { homography: [...map.back.homography], net: netBody(map.back.net) } : null,
    medianPx,
    p95Px,
    inliers,
    overlapShare,
    points: pairs.map(({ from, to }) => ({
      from: [from[0], from[1]] as [number, number],
      to: [to[0], to[1]] as [number, number],
    })),
  };
}

function netBody(net: Net | null) {
  if (net === null) return null;
  const { columns, rows, shiftsPx, known } = net;
  return {
    columns,
    rows,
    shiftsPx: shiftsPx.map(([x, y]): [number, number] => [rounded(x), rounded(y)]),
    known: [...known],
  };
}

const rounded = (px: number) => Math.round(px * 10) / 10;
