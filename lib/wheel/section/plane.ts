/** A point of the section in mm: x axial, y radial outward. */
export type Point = readonly [x: number, y: number];
/** A line through points; a closed outline does not repeat its first point. */
export type Line = readonly Point[];

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

/** The smallest box round all points; throws when there are none, a bug of the caller. */
export function boxOf(points: Line): Box {
  const [first] = points;
  if (first === undefined) throw new Error('Broken invariant: a box needs points');
  let [left, low] = first;
  let [right, high] = first;
  for (const [x, y] of points) {
    left = Math.min(left, x);
    right = Math.max(right, x);
    low = Math.min(low, y);
    high = Math.max(high, y);
  }
  return { left, right, low, high };
}

/** Whether the point lies inside the closed outline (even–odd rule); on the edge either answer may come. */
export function isInside([x, y]: Point, outline: Line): boolean {
  let inside = false;
  outline.forEach(([ax, ay], index) => {
    const [bx, by] = outline[(index + 1) % outline.length] ?? [ax, ay];
    if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside;
  });
  return inside;
}

/** Distance from a point to the straight piece between two points, mm. */
export function distanceToPiece([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const dx = bx - ax;
  const dy = by - ay;
  const squared = dx * dx + dy * dy;
  const along = squared === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / squared));
  return Math.hypot(x - ax - along * dx, y - ay - along * dy);
}

/** Distance from a point to a line, mm; `closed` joins the last point to the first. Infinite for no points. */
export function distanceToLine(point: Point, line: Line, closed = false): number {
  const [first] = line;
  if (first === undefined) return Number.POSITIVE_INFINITY;
  let best = distanceToPiece(point, first, first);
  line.forEach((at, index) => {
    const next = line[index + 1] ?? (closed ? first : undefined);
    if (next !== undefined) best = Math.min(best, distanceToPiece(point, at, next));
  });
  return best;
}

/** The point halfway along a line by length; the line has at least one point. */
export function midpointOf(line: Line): Point {
  const lengths = line.slice(1).map(([x, y], index) => {
    const [fromX, fromY] = line[index] ?? [x, y];
    return Math.hypot(x - fromX, y - fromY);
  });
  let left = lengths.reduce((sum, length) => sum + length, 0) / 2;
  for (const [index, length] of lengths.entries()) {
    const from = line[index];
    const to = line[index + 1];
    if (from === undefined || to === undefined) break;
    if (left <= length && length > 0) {
      const part = left / length;
      return [from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1])];
    }
    left -= length;
  }
  return line[0] ?? [0, 0];
}

/** The pieces of a line with `from` ≤ x ≤ `to`, cut exactly at the bounds. */
export function clipLine(line: Line, from: number, to: number): Line[] {
  const pieces: Point[][] = [];
  let piece: Point[] = [];
  const close = () => {
    if (piece.length > 1) pieces.push(piece);
    piece = [];
  };
  line.slice(1).forEach((end, index) => {
    const start = line[index];
    const kept = start === undefined ? null : clipPiece(start, end, from, to);
    if (kept === null) {
      close();
      return;
    }
    const last = piece.at(-1);
    if (last === undefined || last[0] !== kept[0][0] || last[1] !== kept[0][1]) {
      close();
      piece.push(kept[0]);
    }
    piece.push(kept[1]);
  });
  close();
  return pieces;
}

function clipPiece(start: Point, end: Point, from: number, to: number): [Point, Point] | null {
  const dx = end[0] - start[0];
  if (dx === 0) return start[0] >= from && start[0] <= to ? [start, end] : null;
  const ends = [(from - start[0]) / dx, (to - start[0]) / dx].sort((a, b) => a - b);
  const begin = Math.max(0, ends[0] ?? 0);
  const stop = Math.min(1, ends[1] ?? 1);
  if (begin >= stop) return null;
  const at = (part: number): Point =>
    part === 0 ? start : part === 1 ? end : [start[0] + part * dx, start[1] + part * (end[1] - start[1])];
  return [at(begin), at(stop)];
}
