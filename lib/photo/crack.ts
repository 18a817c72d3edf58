import type { Point } from './homography.ts';

/** A point of a crack’s tree and the neighbours it is joined to. */
interface Knot {
  readonly point: Point;
  readonly joined: Set<number>;
}

/**
 * The longest way through a crack from tip to tip. The main trace comes first; each branch starts on an earlier trace
 * and is joined there at the nearest place. `lengthBetween` gives the length of a straight piece, in any unit.
 */
export function longestWay(
  branches: readonly (readonly Point[])[],
  lengthBetween: (a: Point, b: Point) => number,
): readonly Point[] {
  const knots: Knot[] = [];
  const pieces: [number, number][] = [];
  const put = (point: Point): number => knots.push({ point, joined: new Set() }) - 1;
  const join = (a: number, b: number) => {
    knots[a]?.joined.add(b);
    knots[b]?.joined.add(a);
    pieces.push([a, b]);
  };
  for (const [index, branch] of branches.entries()) {
    const [first] = branch;
    if (first === undefined) continue;
    let last = index === 0 ? put(first) : junction(knots, pieces, first, put);
    for (const point of branch.slice(1)) {
      const next = put(point);
      join(last, next);
      last = next;
    }
  }
  const farthest = (from: number): { way: number[]; length: number } => {
    let best = { way: [from], length: 0 };
    const stack: { way: number[]; length: number }[] = [best];
    for (let here = stack.pop(); here !== undefined; here = stack.pop()) {
      if (here.length > best.length) best = here;
      const at = here.way.at(-1) ?? from;
      for (const next of knots[at]?.joined ?? []) {
        if (next === here.way.at(-2)) continue;
        const [a, b] = [knots[at]?.point, knots[next]?.point];
        const length = a === undefined || b === undefined ? 0 : lengthBetween(a, b);
        stack.push({ way: [...here.way, next], length: here.length + length });
      }
    }
    return best;
  };
  // The farthest knot from anywhere in a tree is one end of its longest way.
  const end = farthest(0).way.at(-1) ?? 0;
  return farthest(end)
    .way.map((knot) => knots[knot]?.point)
    .filter((point) => point !== undefined);
}

/** Joins a branch to the tree at the nearest place of an earlier piece, splitting the piece; returns the knot there. */
function junction(
  knots: Knot[],
  pieces: [number, number][],
  start: Point,
  put: (point: Point) => number,
): number {
  let best = { away: Number.POSITIVE_INFINITY, piece: -1, at: start };
  pieces.forEach(([a, b], piece) => {
    const [from, to] = [knots[a]?.point ?? start, knots[b]?.point ?? start];
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const square = dx * dx + dy * dy;
    const share =
      square === 0
        ? 0
        : Math.min(1, Math.max(0, ((start[0] - from[0]) * dx + (start[1] - from[1]) * dy) / square));
    const at: Point = [from[0] + share * dx, from[1] + share * dy];
    const away = Math.hypot(at[0] - start[0], at[1] - start[1]);
    if (away < best.away) best = { away, piece, at };
  });
  const split = pieces[best.piece];
  if (split === undefined) return put(start);
  const [a, b] = split;
  const knot = put(best.at);
  knots[a]?.joined.delete(b);
  knots[b]?.joined.delete(a);
  for (const end of [a, b]) {
    knots[end]?.joined.add(knot);
    knots[knot]?.joined.add(end);
  }
  pieces.splice(best.piece, 1, [a, knot], [knot, b]);
  return knot;
}
