import { type Homography, mapPoint, type Point } from './homography.ts';

/** Size of an upright picture, px. */
export interface PictureSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/**
 * What a plane cannot say: shifts in px of the second picture at the nodes of an even net over the first one, row by
 * row from its top left corner to its bottom right one, linear in between. `known` tells of each node whether anything
 * was seen near it; elsewhere the net only goes on smoothly.
 */
export interface Net {
  readonly columns: number;
  readonly rows: number;
  readonly shiftsPx: readonly (readonly [number, number])[];
  readonly known: readonly boolean[];
}

/** From px of a first upright picture to px of a second one: a homography, and shifts after it where a surface is round. */
export interface PhotoMap {
  readonly from: PictureSize;
  readonly to: PictureSize;
  readonly homography: Homography;
  /** Null: the homography alone. */
  readonly net: Net | null;
  /** The way back where it was found by itself, as over steps that hide each other; left out or null: by turning round. */
  readonly back?: { readonly homography: Homography; readonly net: Net | null } | null;
}

/** Where the nodes of a net lie on its picture, row by row, px. */
export function netNodes({ widthPx, heightPx }: PictureSize, columns: number, rows: number): Point[] {
  return Array.from({ length: columns * rows }, (_, i) => [
    ((i % columns) / (columns - 1)) * widthPx - 0.5,
    (Math.floor(i / columns) / (rows - 1)) * heightPx - 0.5,
  ]);
}

interface Cell {
  readonly nodes: readonly [number, number, number, number];
  readonly weights: readonly [number, number, number, number];
}

/** The four nodes round a point and their bilinear weights; points beside the picture count at its edge. */
export function cellAt(
  { columns, rows }: Pick<Net, 'columns' | 'rows'>,
  size: PictureSize,
  [x, y]: Point,
): Cell {
  const across = Math.min(Math.max((x + 0.5) / size.widthPx, 0), 1) * (columns - 1);
  const down = Math.min(Math.max((y + 0.5) / size.heightPx, 0), 1) * (rows - 1);
  const [i, k] = [Math.min(Math.floor(across), columns - 2), Math.min(Math.floor(down), rows - 2)];
  const [u, v] = [across - i, down - k];
  const first = k * columns + i;
  return {
    nodes: [first, first + 1, first + columns, first + columns + 1],
    weights: [(1 - u) * (1 - v), u * (1 - v), (1 - u) * v, u * v],
  };
}

function shiftAt(net: Net, size: PictureSize, at: Point): Point {
  const { nodes, weights } = cellAt(net, size, at);
  let [x, y] = [0, 0];
  for (let n = 0; n < 4; n += 1) {
    const shift = net.shiftsPx[nodes[n] ?? 0] ?? [0, 0];
    x += (weights[n] ?? 0) * shift[0];
    y += (weights[n] ?? 0) * shift[1];
  }
  return [x, y];
}

/** The point of the second picture that shows what a point of the first one shows, px; not finite on the horizon. */
export function mapThrough({ homography, net, from }: PhotoMap, at: Point): Point {
  const [x, y] = mapPoint(homography, at);
  if (net === null) return [x, y];
  const [dx, dy] = shiftAt(net, from, at);
  return [x + dx, y + dy];
}

const BACK_STEPS_MAX = 40;
/** A point taken back counts as found when it goes forth again to within this, px. */
const BACK_PX = 0.01;

/** The way back, by fixed-point iteration; null where it does not come to rest: there the map folds. */
export function mapBack(map: PhotoMap, at: Point): Point | null {
  if (map.back) return mapThrough({ from: map.to, to: map.from, ...map.back }, at);
  const back = inverseOf(map.homography);
  let point = mapPoint(back, at);
  if (map.net === null) return Number.isFinite(point[0]) ? point : null;
  for (let step = 0; step < BACK_STEPS_MAX; step += 1) {
    const [dx, dy] = shiftAt(map.net, map.from, point);
    point = mapPoint(back, [at[0] - dx, at[1] - dy]);
    const [x, y] = mapThrough(map, point);
    const off = Math.hypot(x - at[0], y - at[1]);
    if (!Number.isFinite(off)) return null;
    if (off < BACK_PX) return point;
  }
  return null;
}

/** Whether something was seen near a point of the first picture, so that the map says something there. */
export function isKnownAt({ net, from, homography, to }: PhotoMap, at: Point): boolean {
  if (!isInside(from, at)) return false;
  if (net === null) return isInside(to, mapPoint(homography, at));
  const { nodes, weights } = cellAt(net, from, at);
  return nodes.some((node, n) => net.known[node] === true && (weights[n] ?? 0) > 0.2);
}

export function isInside({ widthPx, heightPx }: PictureSize, [x, y]: Point): boolean {
  return x >= -0.5 && y >= -0.5 && x <= widthPx - 0.5 && y <= heightPx - 0.5;
}

/** The inverse of a homography, up to a factor (adjugate). The homography must not be singular. */
export function inverseOf([a, b, c, d, e, f, g, h, i]: Homography): Homography {
  return [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ];
}

/** The same map between copies of both pictures at other sizes. */
export function mapAtSize(map: PhotoMap, from: PictureSize, to: PictureSize): PhotoMap {
  const [f, g] = [from.widthPx / map.from.widthPx, to.widthPx / map.to.widthPx];
  // Pixel centres stay: x′ = f·x + (f − 1)/2.
  const back: Homography = [1 / f, 0, (1 / f - 1) / 2, 0, 1 / f, (1 / f - 1) / 2, 0, 0, 1];
  const forth: Homography = [g, 0, (g - 1) / 2, 0, g, (g - 1) / 2, 0, 0, 1];
  const net =
    map.net === null
      ? null
      : { ...map.net, shiftsPx: map.net.shiftsPx.map(([x, y]) => [x * g, y * g] as const) };
  const turned = { from: map.to, to: map.from, ...map.back } as PhotoMap;
  const { homography: backwards, net: backNet } = map.back
    ? mapAtSize(turned, to, from)
    : { homography: null, net: null };
  return {
    from,
    to,
    homography: times(times(forth, map.homography), back),
    net,
    back: backwards === null ? null : { homography: backwards, net: backNet },
  };
}

/** Product of two 3 × 3 matrices, the second applied first; scaled so that the last number is 1 where it can be. */
export function times(a: Homography, b: Homography): Homography {
  const product = [0, 1, 2].flatMap((i) =>
    [0, 1, 2].map((k) => [0, 1, 2].reduce((sum, j) => sum + (a[3 * i + j] ?? 0) * (b[3 * j + k] ?? 0), 0)),
  );
  const last = product[8] ?? 1;
  return (Math.abs(last) > 1e-12 ? product.map((one) => one / last) : product) as unknown as Homography;
}
