import type { GreyPicture, Point } from '../../photo/index.ts';

/** Intensity between pixels, bilinear; the nearest pixel outside the picture. */
export function intensityAt({ widthPx, heightPx, values }: GreyPicture, x: number, y: number): number {
  const cx = Math.min(Math.max(x, 0), widthPx - 1.001);
  const cy = Math.min(Math.max(y, 0), heightPx - 1.001);
  const [ix, iy] = [Math.floor(cx), Math.floor(cy)];
  const [fx, fy] = [cx - ix, cy - iy];
  const at = iy * widthPx + ix;
  const [a, b] = [values[at] ?? 0, values[at + 1] ?? 0];
  const [c, d] = [values[at + widthPx] ?? 0, values[at + widthPx + 1] ?? 0];
  return (a * (1 - fx) + b * fx) * (1 - fy) + (c * (1 - fx) + d * fx) * fy;
}

/** A line as a point on it and its direction. */
interface Line {
  readonly at: Point;
  readonly direction: Point;
}

/** Profiles are taken over the middle of a side: near its corners the other side’s blur disturbs. */
const SIDE_FROM = 0.14;
const SIDE_TO = 0.86;
const PROFILES_MIN = 8;
const PROFILES_MAX = 40;
/** Step along a profile, px. */
const STEP_PX = 0.25;

/** Position of the steepest rise along a profile, refined by a parabola; null where there is none. */
function steepest(profile: readonly number[]): { at: number; steepness: number } | null {
  // Slope over three steps, smoothed: a marker’s edge is never sharper than a pixel or so.
  const slope = profile.map((_, i) =>
    i < 3 || i > profile.length - 4
      ? 0
      : 2 * ((profile[i + 1] ?? 0) - (profile[i - 1] ?? 0)) +
        2 * ((profile[i + 2] ?? 0) - (profile[i - 2] ?? 0)) +
        ((profile[i + 3] ?? 0) - (profile[i - 3] ?? 0)),
  );
  let best = 0;
  slope.forEach((value, i) => {
    if (value > (slope[best] ?? 0)) best = i;
  });
  const top = slope[best] ?? 0;
  if (top <= 0) return null;
  // Centroid of the slope about its top: steadier than a parabola where the edge is broad.
  let [sum, weight] = [0, 0];
  for (let i = best; i >= 0 && (slope[i] ?? 0) > top * 0.3; i -= 1)
    [sum, weight] = [sum + i * ((slope[i] ?? 0) - top * 0.3), weight + (slope[i] ?? 0) - top * 0.3];
  for (let i = best + 1; i < slope.length && (slope[i] ?? 0) > top * 0.3; i += 1)
    [sum, weight] = [sum + i * ((slope[i] ?? 0) - top * 0.3), weight + (slope[i] ?? 0) - top * 0.3];
  return { at: sum / weight, steepness: top };
}

/** Straight line through points by principal axes, leaving out those far off twice; null with fewer than four. */
function lineThrough(points: readonly Point[], offMax: number): Line | null {
  let kept = points;
  for (let round = 0; ; round += 1) {
    if (kept.length < 4) return null;
    const n = kept.length;
    const at: Point = [kept.reduce((s, p) => s + p[0], 0) / n, kept.reduce((s, p) => s + p[1], 0) / n];
    let [xx, xy, yy] = [0, 0, 0];
    for (const [x, y] of kept) {
      xx += (x - at[0]) ** 2;
      xy += (x - at[0]) * (y - at[1]);
      yy += (y - at[1]) ** 2;
    }
    const angle = Math.atan2(2 * xy, xx - yy) / 2;
    const direction: Point = [Math.cos(angle), Math.sin(angle)];
    const off = ([x, y]: Point) => Math.abs((x - at[0]) * direction[1] - (y - at[1]) * direction[0]);
    const sorted = kept.map(off).sort((a, b) => a - b);
    const limit = Math.max(0.1, 3 * (sorted[Math.floor(n / 2)] ?? 0));
    const next = kept.filter((point) => off(point) <= limit);
    if (round >= 3 || next.length === n)
      return (sorted[Math.floor(n / 2)] ?? 0) > offMax ? null : { at, direction };
    kept = next;
  }
}

function crossing(a: Line, b: Line): Point | null {
  const turn = a.direction[0] * b.direction[1] - a.direction[1] * b.direction[0];
  if (Math.abs(turn) < 0.05) return null;
  const t = ((b.at[0] - a.at[0]) * b.direction[1] - (b.at[1] - a.at[1]) * b.direction[0]) / turn;
  return [a.at[0] + t * a.direction[0], a.at[1] + t * a.direction[1]];
}

/** Edge of one side of a marker: black inside, white outside. */
function sideLine(picture: GreyPicture, from: Point, to: Point, reachPx: number): Line | null {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(dx, dy);
  // Outward of a marker whose corners run clockwise on the picture (y down).
  const out: Point = [dy / length, -dx / length];
  const count = Math.round(Math.min(PROFILES_MAX, Math.max(PROFILES_MIN, length / 2)));
  const steps = Math.round(reachPx / STEP_PX);
  const points: Point[] = [];
  for (let k = 0; k < count; k += 1) {
    const share = SIDE_FROM + ((SIDE_TO - SIDE_FROM) * (k + 0.5)) / count;
    const at: Point = [from[0] + dx * share, from[1] + dy * share];
    const profile = Array.from({ length: 2 * steps + 1 }, (_, i) => {
      const t = (i - steps) * STEP_PX;
      return intensityAt(picture, at[0] + out[0] * t, at[1] + out[1] * t);
    });
    const edge = steepest(profile);
    if (edge === null) continue;
    const t = (edge.at - steps) * STEP_PX;
    points.push([at[0] + out[0] * t, at[1] + out[1] * t]);
  }
  return lineThrough(points, Math.max(0.5, length * 0.03));
}

/**
 * Corners of a marker to a fraction of a pixel: a straight line is fitted to the steepest rise along each side of its
 * black border, and neighbouring lines are crossed. Blur, a camera’s tone curve and the spread of ink move all sides of
 * a marker in or out by the same fraction of a pixel; whoever locates the card allows for that. Null where a side shows no edge, as when it is covered.
 */
export function refinedCorners(
  picture: GreyPicture,
  corners: readonly [Point, Point, Point, Point],
): [Point, Point, Point, Point] | null {
  let current = corners;
  for (let round = 0; round < 2; round += 1) {
    const shortest = Math.min(
      ...current.map((corner, i) => distancePx(corner, current[(i + 1) % 4] ?? corner)),
    );
    // A cell of the border is a sixth of the side: farther out lies the next cell or the end of the white margin.
    const reach = Math.max(1.5, Math.min(shortest * (round === 0 ? 0.13 : 0.1), 12));
    const lines = current.map((corner, i) =>
      sideLine(picture, corner, current[(i + 1) % 4] ?? corner, reach),
    );
    const next = lines.map((line, i) => {
      const before = lines[(i + 3) % 4];
      return line === null || before === null || before === undefined ? null : crossing(before, line);
    });
    const [a, b, c, d] = next;
    if (a == null || b == null || c == null || d == null) return null;
    const moved = [a, b, c, d] as const;
    // A corner that runs away has followed another edge.
    if (moved.some((corner, i) => distancePx(corner, current[i] ?? corner) > 2 * reach)) return null;
    current = moved;
  }
  return [...current];
}

function distancePx(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
