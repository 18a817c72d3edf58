import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { PointPx, Shape } from '../marks/index.ts';
import type { PhotoScale } from '../record/index.ts';
import { cardLayouts } from './card.ts';
import { polygonArea, polylineLength, signedArea } from './flat.ts';
import { depthAt, type Homography, homographyFrom, mapPoint, type Point } from './homography.ts';

/** One named part of an uncertainty, in the unit of the value. */
export interface Contribution {
  readonly name: string;
  readonly u: number;
}

/** A size taken from a photo: mm for lengths, mm² for areas, with standard uncertainty u. */
export interface PhotoMeasure {
  readonly quantity: 'length' | 'area';
  readonly value: number;
  readonly u: number;
  /** Largest first. */
  readonly contributions: readonly Contribution[];
  /** Size of one pixel at the mark, mm. */
  readonly mmPerPx: number;
}

/** Standard uncertainty of picking one coordinate by finger or mouse, px. Our own choice, to be replaced by trials. */
const PICK_U_PX = 1.5;
/** How far a mark may lie before or behind the plane of the scale, mm, and from how far it is seen: our own choice. */
const OUT_OF_PLANE_MM = 10;
const ASSUMED_DISTANCE_MM = 500;
const OUT_OF_PLANE_SHARE = OUT_OF_PLANE_MM / ASSUMED_DISTANCE_MM / Math.sqrt(3);
/**
 * Seats, gutters and rings are round, and this measures in the plane of the scale: against rendered parts with known
 * truth sizes came out up to 9 % off (areas) and 3 % off (lengths). Taken as this share until the surface is modelled.
 */
const CURVED_SURFACE_SHARE = 0.025;
/**
 * One span says nothing of foreshortening. A camera held square within 30° shortens directions by up to
 * 1 − cos 30° = 13.4 %; a rectangular law over ±13.4 % gives this share. Our own choice of 30°.
 */
const FORESHORTENING_SHARE = (1 - Math.cos(Math.PI / 6)) / Math.sqrt(3);
/** A tape laid by hand: half a millimetre each end, rectangular. Common practice, no source. */
const TAPE_U_MM = 0.5 / Math.sqrt(3);

/** Tolerances of cut paper: ±1.5 mm up to 150 mm, ±2 mm up to 600 mm (ISO 216, from memory). */
function paperUMm(sideMm: number): number {
  return (sideMm <= 150 ? 1.5 : 2) / Math.sqrt(3);
}

/** Rectangles of known size, mm: ISO 216 A4 and A5, ISO/IEC 7810 ID-1 card, the program's own scale cards. */
export const knownRectangles: readonly {
  readonly what: string;
  readonly widthMm: number;
  readonly heightMm: number;
}[] = [
  { what: 'A4 sheet', widthMm: 297, heightMm: 210 },
  { what: 'A5 sheet', widthMm: 210, heightMm: 148 },
  { what: 'ID-1 card', widthMm: 85.6, heightMm: 53.98 },
  ...cardLayouts.map(({ name, widthMm, heightMm }) => ({ what: `Scale card, ${name}`, widthMm, heightMm })),
];

/** Relative standard uncertainty of the reference itself. */
function referenceShare(scale: PhotoScale): number {
  if (scale.source === 'known length') return TAPE_U_MM / scale.lengthMm;
  if (scale.what.includes('sheet')) {
    return Math.max(paperUMm(scale.widthMm) / scale.widthMm, paperUMm(scale.heightMm) / scale.heightMm);
  }
  // ID-1 outer size ±0.13 mm (ISO/IEC 7810, from memory); other rectangles as a tape reading.
  const sideU = scale.what === 'ID-1 card' ? 0.13 / Math.sqrt(3) : TAPE_U_MM;
  return sideU / Math.min(scale.widthMm, scale.heightMm);
}

/** Turns the pixels that fix the scale into a map from px to mm on the plane of the scale. */
function planeOf(points: readonly PointPx[], scale: PhotoScale): Result<Homography, Problem> {
  if (scale.source === 'rectangle') {
    const { widthMm, heightMm } = scale;
    return homographyFrom(points, [
      [0, 0],
      [widthMm, 0],
      [widthMm, heightMm],
      [0, heightMm],
    ]);
  }
  const [a, b] = points;
  const lengthPx = a === undefined || b === undefined ? 0 : Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (lengthPx < 2) {
    return fail(
      problem(
        'scale-length',
        'scale.ends',
        lengthPx,
        'The two ends of the known length lie on one spot',
        'Pick the two ends apart from each other.',
      ),
    );
  }
  const mmPerPx = scale.lengthMm / lengthPx;
  return ok([mmPerPx, 0, 0, 0, mmPerPx, 0, 0, 0, 1]);
}

function scalePoints(scale: PhotoScale): readonly PointPx[] {
  return scale.source === 'rectangle' ? scale.corners : scale.ends;
}

/** The lines or the outline of a shape that its size is taken from; null for shapes without a size. */
function measured(
  shape: Shape,
): { quantity: 'length' | 'area'; lines: readonly (readonly PointPx[])[] } | null {
  switch (shape.form) {
    case 'trace':
      return { quantity: 'length', lines: shape.branches };
    case 'span':
      return { quantity: 'length', lines: [shape.ends] };
    case 'patch':
      return { quantity: 'area', lines: [shape.outline] };
    case 'band':
      return { quantity: 'length', lines: [shape.centreLine] };
    case 'spot':
      return null;
  }
}

type Size = (linePoints: readonly (readonly Point[])[], plane: Homography) => number;

const lengthOf: Size = (lines, plane) =>
  lines.reduce((sum, line) => sum + polylineLength(line.map((point) => mapPoint(plane, point))), 0);
const areaOf: Size = (lines, plane) =>
  lines.reduce((sum, line) => sum + polygonArea(line.map((point) => mapPoint(plane, point))), 0);

/**
 * Size of a mark on a photo whose scale is set: length of a crack (branches added up), of a span or of a band's
 * centre line; area of a patch. Everything is taken to lie in the plane of the scale. The uncertainty is propagated
 * to first order by central differences over every picked coordinate (JCGM 100, 5.1.2), plus named shares for the
 * reference, for what lies out of the plane and, with a single known length, for unknown foreshortening.
 * Fails when the mark has no size, when the scale does not fix a plane, or when a point lies beyond its horizon.
 */
export function measureShape(shape: Shape, scale: PhotoScale): Result<PhotoMeasure, Problem> {
  const sized = measured(shape);
  if (sized === null) {
    return fail(
      problem(
        'measure-form',
        'shape.form',
        shape.form,
        'A spot has no size',
        'Draw a crack, a patch or a span.',
      ),
    );
  }
  const reference = scalePoints(scale);
  const plane = planeOf(reference, scale);
  if (!plane.ok) return plane;
  const inside = Math.sign(depthAt(plane.value, reference[0] ?? [0, 0]));
  const beyond = sized.lines.flat().find((point) => depthAt(plane.value, point) * inside <= 1e-9);
  if (beyond !== undefined) {
    return fail(
      problem(
        'measure-horizon',
        'shape',
        beyond,
        'A point of the mark lies beyond the horizon of the scale’s plane',
        'Set the scale again on the surface the mark lies on.',
      ),
    );
  }
  const sizeOf = sized.quantity === 'area' ? areaOf : lengthOf;
  const value = sizeOf(sized.lines, plane.value);
  const dimension = sized.quantity === 'area' ? 2 : 1;
  const markPick = PICK_U_PX * pickSpread(sized, plane.value);
  const scalePick =
    PICK_U_PX *
    spreadOver([reference], ([points]) => {
      const moved = planeOf((points ?? []) as PointPx[], scale);
      return moved.ok ? sizeOf(sized.lines, moved.value) : value;
    });
  const contributions: Contribution[] = [
    { name: 'picking the mark', u: markPick },
    { name: 'picking the scale', u: scalePick },
    { name: 'size of the reference', u: dimension * referenceShare(scale) * value },
    { name: 'mark before or behind the plane of the scale', u: dimension * OUT_OF_PLANE_SHARE * value },
    { name: 'surface curving away from the plane of the scale', u: dimension * CURVED_SURFACE_SHARE * value },
    ...(scale.source === 'known length'
      ? [{ name: 'foreshortening not known from one length', u: dimension * FORESHORTENING_SHARE * value }]
      : []),
  ].sort((a, b) => b.u - a.u);
  const u = Math.hypot(...contributions.map((one) => one.u));
  return ok({
    quantity: sized.quantity,
    value,
    u,
    contributions,
    mmPerPx: mmPerPxAt(plane.value, sized.lines[0]?.[0] ?? [0, 0]),
  });
}

/**
 * Root sum of squares of the derivatives of a mark's size by every picked coordinate. Moving one point changes only
 * what lies between its neighbours, so each derivative is taken there and the whole is linear in the points.
 */
function pickSpread(
  sized: { readonly quantity: 'length' | 'area'; readonly lines: readonly (readonly PointPx[])[] },
  plane: Homography,
): number {
  let squares = 0;
  for (const line of sized.lines) {
    const n = line.length;
    const at = (index: number): PointPx[] => {
      const point = line[sized.quantity === 'area' ? (index + n) % n : index];
      return point === undefined ? [] : [point];
    };
    for (let i = 0; i < n; i += 1) {
      const before = at(i - 1);
      const near = [[...before, ...at(i), ...at(i + 1)]];
      squares +=
        spreadOver(near, ([points]) => sizeNear(points ?? [], sized.quantity, plane), before.length) ** 2;
    }
  }
  return Math.sqrt(squares);
}

/** The part of the size that a point and its neighbours make: its segments, or a signed area up to a constant. */
function sizeNear(points: readonly Point[], quantity: 'length' | 'area', plane: Homography): number {
  const flat = points.map((point) => mapPoint(plane, point));
  return quantity === 'length' ? polylineLength(flat) : signedArea(flat);
}

/**
 * Root sum of squares of the derivatives of `size` by the coordinates of the points, by central differences of half a
 * pixel; of one point of each line only, where `only` names it.
 */
function spreadOver(
  lines: readonly (readonly Point[])[],
  size: (lines: readonly (readonly Point[])[]) => number,
  only?: number,
): number {
  const STEP_PX = 0.5;
  let squares = 0;
  lines.forEach((line, l) => {
    line.forEach(([x, y], p) => {
      if (only !== undefined && p !== only) return;
      const movedTo = (to: Point) =>
        lines.map((other, i) => (i === l ? other.map((q, j) => (j === p ? to : q)) : other));
      const dx = (size(movedTo([x + STEP_PX, y])) - size(movedTo([x - STEP_PX, y]))) / (2 * STEP_PX);
      const dy = (size(movedTo([x, y + STEP_PX])) - size(movedTo([x, y - STEP_PX]))) / (2 * STEP_PX);
      squares += dx * dx + dy * dy;
    });
  });
  return Math.sqrt(squares);
}

/** Side of the square whose area equals that of the mapped pixel at a point, mm. */
function mmPerPxAt(plane: Homography, [x, y]: Point): number {
  const corners: Point[] = [
    [x - 0.5, y - 0.5],
    [x + 0.5, y - 0.5],
    [x + 0.5, y + 0.5],
    [x - 0.5, y + 0.5],
  ];
  return Math.sqrt(polygonArea(corners.map((corner) => mapPoint(plane, corner))));
}
