import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type EdgeSearch, type EdgeSnap, searchOf, snapAlong } from './edge.ts';
import { type FittedLine, fitLine } from './edgeLine.ts';
import { checkInside, type GreyPicture, lightTable } from './grey.ts';
import type { Point } from './homography.ts';

/** A corner with the corners next to it on the same outline, px. */
export interface CornerPick {
  readonly corner: Point;
  readonly before: Point;
  readonly after: Point;
}

/** How a corner is looked for; every field has a default. */
export interface CornerSearch extends Omit<EdgeSearch, 'turns'> {
  /** How much of each side next to the corner is left out, because it is rounded there, px. Default 6. */
  readonly clearPx?: number;
  /** How far along each side the edge is taken, px, at most 0.6 of it. Default 80: lenses bend longer lines. */
  readonly alongPx?: number;
}

/** A corner pulled to where two straight edges meet. */
export interface CornerSnap {
  readonly at: Point;
  /** Distance from the pick, px. */
  readonly shiftPx: number;
  /** Standard uncertainty of one coordinate, px: root mean square of the two; 0.05 or more. */
  readonly uPx: number;
  /** Places that agreed on a line and places looked at, for each side. */
  readonly used: readonly [number, number];
  readonly looked: readonly [number, number];
}

/** Distance between places along a side, px; a short side is looked at more closely. */
const SPACING_PX = 3;
/** Fewest places that must agree on a side. */
const PLACES_MIN = 6;
/** Fewest of the places looked at that must agree; the rest may lie under a finger, dirt or the edge of a shadow. */
const AGREE_SHARE = 0.5;
/** Below this angle between the sides the corner runs away along them, degrees. */
const ANGLE_MIN_DEGREES = 20;
const U_MIN_PX = 0.05;

interface Side {
  readonly corner: Point;
  readonly direction: Point;
  readonly normal: Point;
  readonly spacingPx: number;
  readonly places: readonly number[];
}

function sideOf(corner: Point, other: Point, clearPx: number, alongPx: number): Side | null {
  const length = Math.hypot(other[0] - corner[0], other[1] - corner[1]);
  const end = Math.min(0.6 * length, clearPx + alongPx);
  const spacingPx = Math.min(SPACING_PX, (end - clearPx) / (2 * PLACES_MIN));
  if (!(spacingPx >= 0.4)) return null;
  const direction: Point = [(other[0] - corner[0]) / length, (other[1] - corner[1]) / length];
  const count = Math.floor((end - clearPx) / spacingPx) + 1;
  return {
    corner,
    direction,
    normal: [-direction[1], direction[0]],
    spacingPx,
    places: Array.from({ length: count }, (_, i) => clearPx + i * spacingPx),
  };
}

const pointOn = ({ corner, direction, normal }: Side, along: number, off: number): Point => [
  corner[0] + along * direction[0] + off * normal[0],
  corner[1] + along * direction[1] + off * normal[1],
];

/** Where a side’s edge lies: looked for widely first, then again near the line found, for the turn most places show. */
function lineOf(
  picture: GreyPicture,
  side: Side,
  search: Required<EdgeSearch>,
  field: string,
): Result<FittedLine, Problem> {
  const light = lightTable(search.encoding);
  const snapsNear = (line: FittedLine | null, how: Required<EdgeSearch>) => {
    const found: { along: number; off: number; uPx: number; snap: EdgeSnap }[] = [];
    for (const along of side.places) {
      const off = line === null ? 0 : line.offset + line.slope * along;
      const at = pointOn(side, along, off);
      if (!checkInside(picture, field, at).ok) continue;
      const snap = snapAlong(picture, at, side.normal, how, field, light);
      // A place without a clear edge is left out; how many remain is checked below.
      if (snap.ok)
        found.push({ along, off: off + snap.value.shiftPx, uPx: snap.value.uPx, snap: snap.value });
    }
    return found;
  };
  const wide = snapsNear(null, search);
  const brighter = wide.filter(({ snap }) => snap.contrast > 0).length;
  const turns = 2 * brighter >= wide.length ? 'to light' : 'to dark';
  const same = wide.filter(({ snap }) => snap.contrast > 0 === (turns === 'to light'));
  const first = fitLine(same, 1, PLACES_MIN);
  // Overlapping bands share pixels: the equivalent width of a Gaussian band is 2√π standard deviations.
  const overlap = Math.max(1, (2 * Math.sqrt(Math.PI) * search.bandPx) / side.spacingPx);
  const near = { ...search, turns, radiusPx: Math.min(search.radiusPx, 4) } as const;
  const line = first === null ? null : fitLine(snapsNear(first, near), overlap, PLACES_MIN);
  if (line === null || line.used < AGREE_SHARE * side.places.length) {
    return fail(
      problem(
        'corner-side',
        field,
        `${line?.used ?? same.length} of ${side.places.length} places`,
        'Along this side of the corner there is no one straight edge',
        'Pick the corner by eye, or take the picture with the card on a plain ground.',
      ),
    );
  }
  return ok(line);
}

/** Where two lines meet, with the standard uncertainty of a coordinate; null where they are nearly parallel. */
function meeting(sides: readonly [Side, Side], lines: readonly [FittedLine, FittedLine]) {
  // Each line in normal form: n·p = c, with the slope turned into the direction.
  const [one, two] = sides.map((side, k) => {
    const line = lines[k] as FittedLine;
    const n: Point = [
      side.normal[0] - line.slope * side.direction[0],
      side.normal[1] - line.slope * side.direction[1],
    ];
    const size = Math.hypot(...n);
    const at = pointOn(side, 0, line.offset);
    return { n: [n[0] / size, n[1] / size] as Point, c: (n[0] * at[0] + n[1] * at[1]) / size };
  }) as [{ n: Point; c: number }, { n: Point; c: number }];
  const sine = one.n[0] * two.n[1] - one.n[1] * two.n[0];
  if (Math.abs(sine) < Math.sin((ANGLE_MIN_DEGREES * Math.PI) / 180)) return null;
  const at: Point = [
    (one.c * two.n[1] - two.c * one.n[1]) / sine,
    (one.n[0] * two.c - two.n[0] * one.c) / sine,
  ];
  // Moving a line by δ moves the meeting by δ/sin along the other line: the two add in squares over both coordinates.
  const us = lines.map((line, k) => {
    const side = sides[k] as Side;
    const along = (at[0] - side.corner[0]) * side.direction[0] + (at[1] - side.corner[1]) * side.direction[1];
    return line.uAt(along);
  });
  return { at, uPx: Math.max(U_MIN_PX, Math.hypot(...us) / Math.abs(sine) / Math.SQRT2) };
}

/**
 * Pulls the corner of a rectangle, or of any shape with straight sides, to where its two sides meet.
 *
 * Along the sides towards the neighbouring corners the edge is found at places every 3 px (as `snapAlong` does, square
 * to the side), a line is fitted to each side with Tukey’s weights, so that a third of wrong places does not move it,
 * and the two lines are intersected. The corner itself is not looked at, so it may be rounded or covered.
 * Uncertainty: from the scatter about both lines, carried to the corner (JCGM 100:2008, 5.1.2).
 *
 * Refused with a reason: a side without one straight edge at half of its places; sides too short or less than 20°
 * apart; a corner further from the pick than the search reaches; points off the picture.
 */
export function snapCorner(
  picture: GreyPicture,
  pick: CornerPick,
  search: CornerSearch = {},
): Result<CornerSnap, Problem> {
  const { clearPx = 6, alongPx = 80, ...rest } = search;
  const whole = searchOf(picture, rest);
  if (!whole.ok) return whole;
  const { corner } = pick;
  const inside = checkInside(picture, 'corner', corner);
  if (!inside.ok) return inside;
  const sides: Side[] = [];
  const lines: FittedLine[] = [];
  for (const field of ['before', 'after'] as const) {
    const side = sideOf(corner, pick[field], clearPx, alongPx);
    if (side === null) {
      return fail(
        problem('corner-short', field, pick[field], 'This side of the corner is too short', 'Move closer.'),
      );
    }
    const line = lineOf(picture, side, whole.value, field);
    if (!line.ok) return line;
    sides.push(side);
    lines.push(line.value);
  }
  const pair = lines as [FittedLine, FittedLine];
  const found = meeting(sides as [Side, Side], pair);
  const shiftPx = found === null ? Number.NaN : Math.hypot(found.at[0] - corner[0], found.at[1] - corner[1]);
  if (found === null || shiftPx > 2 * whole.value.radiusPx) {
    return fail(
      problem(
        'corner-lost',
        'corner',
        corner,
        found === null ? 'The two sides are nearly parallel' : 'The sides meet far from the picked corner',
        'Pick the corners of the rectangle again, in order round it.',
      ),
    );
  }
  return ok({
    ...found,
    shiftPx,
    used: [pair[0].used, pair[1].used],
    looked: [sides[0]?.places.length ?? 0, sides[1]?.places.length ?? 0],
  });
}
