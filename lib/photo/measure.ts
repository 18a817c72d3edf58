import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type PointPx, type Shape, shapeProblem } from '../marks/index.ts';
import type { PhotoCamera, PhotoScale, SurfaceChoice } from '../record/index.ts';
import type { Section, ZoneId } from '../wheel/index.ts';
import { rayThrough } from './camera.ts';
import { longestWay } from './crack.ts';
import type { Point } from './homography.ts';
import type { Placing } from './placement.ts';
import { besideItsZone, isOwnChoice, placingOf } from './placing.ts';
import { type Contribution, type Propagated, propagate } from './propagate.ts';
import type { Reference } from './reference.ts';
import { locateReference, PICK_U_PX, referenceSizeMm } from './scales.ts';
import { type Lines, sizeOn, type Taking } from './size.ts';
import { obliquityAt, type Surface } from './surface.ts';
import { distance, norm } from './vector.ts';

/** Everything that turns the pixels of one photo into millimetres. */
export interface PhotoScene {
  readonly scale: PhotoScale;
  /** Null: nothing is known of the picture but its points. */
  readonly camera: PhotoCamera | null;
  readonly surface: SurfaceChoice;
  /** Section of the wheel’s rim; null where its construction or size is not known. */
  readonly section: Section | null;
}

/** Where the surface is chosen by nobody: each mark lies on the surface of its own zone. */
export const SURFACE_BY_ZONE: SurfaceChoice = {
  form: 'zone of the mark',
  restsOn: null,
  turnDegrees: null,
  gutterSide: null,
};

/** A shape on the photo and the zone of a part that it lies on. */
export interface Placed {
  readonly shape: Shape;
  /** Slot of the part in its construction; null where the part is not placed. */
  readonly slot: string | null;
  readonly zone: ZoneId;
}

/** A size taken from a photo: mm for lengths, mm² for areas, degrees from 0 to 180 for angles, with standard uncertainty u. */
export interface PhotoMeasure {
  readonly quantity: 'length' | 'area' | 'angle';
  readonly value: number;
  readonly u: number;
  /** Largest first; they add in squares to u² (to first order). */
  readonly contributions: readonly Contribution[];
  readonly by: 'first order' | 'Monte Carlo';
  /** The surface it was taken on, in words. */
  readonly surface: string;
  /** Size of one pixel at the mark, mm. */
  readonly mmPerPx: number;
  /** Between the line of sight and square to the surface at the mark, degrees. */
  readonly obliquityDegrees: number;
  /** From the camera, and from the middle of the reference, mm. */
  readonly distanceMm: number;
  readonly fromReferenceMm: number;
}

/** Lengths of a crack beside the sum of its branches. */
export interface CrackWays {
  /** Longest way along it from tip to tip. */
  readonly longest: Propagated;
  /** Straight from one end of the longest way to the other. */
  readonly tipToTip: Propagated;
}

/** The lines of a shape that its size is taken from; null for shapes without a size. */
function sizedLines(shape: Shape): { taking: Taking; lines: readonly (readonly PointPx[])[] } | null {
  switch (shape.form) {
    case 'trace':
      return { taking: 'length', lines: shape.branches };
    case 'span':
      return { taking: 'length', lines: [shape.ends] };
    case 'patch':
      return { taking: 'area', lines: [shape.outline] };
    case 'band':
      return { taking: 'length', lines: [shape.centreLine] };
    case 'angle':
      return { taking: 'angle', lines: [[shape.arms[0], shape.vertex, shape.arms[1]]] };
    case 'spot':
      return null;
  }
}

/** A photo whose reference has been located: measures any number of marks. */
export interface PhotoRuler {
  readonly scene: PhotoScene;
  readonly reference: Reference;
  /** The surface that a shape in this zone lies on. */
  placingFor(placed: Placed): Placing;
  /** Size of a shape. Fails when it has none, or when a line of sight misses the surface. */
  measure(placed: Placed): Result<PhotoMeasure, Problem>;
  /** Share of an area, mm², of the whole zone all round the rim; null where the surface is no zone. */
  shareOfZone(placed: Placed, areaMm2: number): number | null;
  /** Size of one pixel across a trace at its middle, mm; null off the surface and for other shapes. */
  mmPerPxAcross(placed: Placed): number | null;
  /** The other lengths of a crack. Fails as `measure` does, and for shapes other than a trace. */
  crackWays(placed: Placed): Result<CrackWays, Problem>;
}

/** Rulers made before, by the scale they were made for: the same photo is asked for on many occasions. */
const made = new WeakMap<PhotoScale, { scene: PhotoScene; ruler: Result<PhotoRuler, Problem> }[]>();
/** Scenes kept for one scale: a surface or two that were tried. */
const SCENES_KEPT = 4;

/**
 * Locates the reference of a photo. Fails when its points do not fix a plane. The ruler of a scene made of the same
 * objects is made once, and so is each measurement of the same shape with it: records do not change.
 */
export function photoRuler(scene: PhotoScene): Result<PhotoRuler, Problem> {
  const known = made.get(scene.scale) ?? [];
  const same = known.find(
    (one) =>
      one.scene.camera === scene.camera &&
      one.scene.surface === scene.surface &&
      one.scene.section === scene.section,
  );
  if (same !== undefined) return same.ruler;
  const ruler = newRuler(scene);
  made.set(scene.scale, [{ scene, ruler }, ...known].slice(0, SCENES_KEPT));
  return ruler;
}

function newRuler(scene: PhotoScene): Result<PhotoRuler, Problem> {
  const located = locateReference(scene.scale, scene.camera);
  if (!located.ok) return located;
  const reference = located.value;
  const laid = perShape((placed) => layOn(reference, scene, placed));
  return ok({
    scene,
    reference,
    placingFor: (placed) => laid(placed).placing,
    measure: perShape((placed) => measureOn(reference, laid(placed), placed.shape)),
    shareOfZone: (placed, areaMm2) => {
      const { zoneAreaMm2 } = laid(placed).placing;
      return zoneAreaMm2 === null ? null : areaMm2 / zoneAreaMm2;
    },
    mmPerPxAcross: (placed) => acrossOn(reference, laid(placed).placing, placed.shape),
    crackWays: perShape((placed) => crackWaysOn(reference, laid(placed).placing, placed.shape)),
  });
}

/** A shape on its surface, and the size found there; null for shapes without a size, and where a point misses it. */
interface Laid {
  readonly placing: Placing;
  readonly size: Propagated | null;
}

function layOn(reference: Reference, scene: PhotoScene, { shape, slot, zone }: Placed): Laid {
  const sized = sizedLines(shape);
  const marksPx = sized?.lines.flat() ?? (shape.form === 'spot' ? [shape.at] : []);
  const place =
    scene.section === null || slot === null
      ? null
      : { section: scene.section, slot, zone, marksPx, ...referenceSizeMm(scene.scale) };
  const on = (placing: Placing): Laid => ({
    placing,
    size: sized === null ? null : propagate({ reference, placing, pickU: PICK_U_PX, ...sized }),
  });
  const first = on(placingOf(scene.surface, place, reference.viewOf(reference.estimate.values)));
  const misses = sized !== null && first.size === null;
  return misses && isOwnChoice(scene.surface) ? on(besideItsZone()) : first;
}

/** Works a function of a placed shape out once for each shape, slot and zone. */
function perShape<T>(work: (placed: Placed) => T): (placed: Placed) => T {
  const done = new WeakMap<Shape, Map<string, T>>();
  return (placed) => {
    const ofShape = done.get(placed.shape) ?? new Map<string, T>();
    done.set(placed.shape, ofShape);
    const key = `${placed.slot}|${placed.zone}`;
    const known = ofShape.get(key);
    if (known !== undefined) return known;
    const result = work(placed);
    ofShape.set(key, result);
    return result;
  };
}

/** One mark on one photo; for several marks of a photo make a `photoRuler` once. */
export function measureShape(placed: Placed, scene: PhotoScene): Result<PhotoMeasure, Problem> {
  if (sizedLines(placed.shape) === null) return fail(noSize(placed.shape));
  const ruler = photoRuler(scene);
  return ruler.ok ? ruler.value.measure(placed) : ruler;
}

function middleOf(points: readonly Point[]): Point {
  const sum = points.reduce(([x, y], point) => [x + point[0], y + point[1]] as const, [0, 0] as Point);
  return [sum[0] / points.length, sum[1] / points.length];
}

const noSize = (shape: Shape) =>
  problem(
    'measure-form',
    'shape.form',
    shape.form,
    'A spot has no size',
    'Draw a crack, a patch, a span or an angle.',
  );

const missed = (lines: Lines, surface: string) =>
  problem(
    'measure-horizon',
    'shape',
    lines.flat()[0] ?? [],
    `A point of the mark does not lie on the surface chosen for it (${surface})`,
    'Look at the grid laid on the photo; choose the surface or the zone of the mark again, or set the scale again.',
  );

function measureOn(
  reference: Reference,
  { placing, size }: Laid,
  shape: Shape,
): Result<PhotoMeasure, Problem> {
  const sized = sizedLines(shape);
  if (sized === null) return fail(noSize(shape));
  const flaw = shape.form === 'angle' ? shapeProblem(shape) : null;
  if (flaw !== null) return fail(flaw);
  if (size === null) return fail(missed(sized.lines, placing.what));
  const view = reference.viewOf(reference.estimate.values);
  const surface = placing.surfaceOf(
    view,
    placing.unknowns.map(() => 0),
  );
  // The first point is on the surface, or the size would not have been found.
  const middle = surface.meet(rayThrough(view.lens, nearestTo(middleOf(sized.lines.flat()), sized.lines)));
  if (middle === null) return fail(missed(sized.lines, placing.what));
  return ok({
    quantity: sized.taking === 'chord' ? 'length' : sized.taking,
    ...size,
    value: Math.abs(size.value),
    surface: placing.what,
    mmPerPx: mmPerPxAt(surface, view.lens, nearestTo(middleOf(sized.lines.flat()), sized.lines)),
    obliquityDegrees: (obliquityAt(middle) * 180) / Math.PI,
    distanceMm: norm(middle.point),
    fromReferenceMm: distance(middle.point, view.frame.origin),
  });
}

function crackWaysOn(reference: Reference, placing: Placing, shape: Shape): Result<CrackWays, Problem> {
  if (shape.form !== 'trace') return fail(noSize(shape));
  const view = reference.viewOf(reference.estimate.values);
  const surface = placing.surfaceOf(
    view,
    placing.unknowns.map(() => 0),
  );
  const way = longestWay(shape.branches, (a, b) => sizeOn(surface, view.lens, [[a, b]], 'length') ?? 0);
  const model = { reference, placing, pickU: PICK_U_PX };
  const ends = [way[0], way.at(-1)].filter((point) => point !== undefined);
  const longest = propagate({ ...model, taking: 'length', lines: [way] });
  const tipToTip = propagate({ ...model, taking: 'chord', lines: [ends] });
  return longest === null || tipToTip === null
    ? fail(missed([way], placing.what))
    : ok({ longest, tipToTip });
}

/** How far to both sides a pixel’s size across a trace is taken, px. */
const ACROSS_PX = 2;

function acrossOn(reference: Reference, placing: Placing, shape: Shape): number | null {
  const line = shape.form === 'trace' ? shape.branches[0] : undefined;
  const k = Math.max(1, Math.floor((line?.length ?? 0) / 2));
  const [a, b] = [line?.[k - 1], line?.[k]];
  if (a === undefined || b === undefined) return null;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length === 0) return null;
  const side = (sign: number): Point => [
    (a[0] + b[0]) / 2 - (sign * ACROSS_PX * (b[1] - a[1])) / length,
    (a[1] + b[1]) / 2 + (sign * ACROSS_PX * (b[0] - a[0])) / length,
  ];
  const view = reference.viewOf(reference.estimate.values);
  const surface = placing.surfaceOf(
    view,
    placing.unknowns.map(() => 0),
  );
  const width = sizeOn(surface, view.lens, [[side(1), side(-1)]], 'chord');
  return width === null ? null : width / (2 * ACROSS_PX);
}

function nearestTo(point: Point, lines: Lines): Point {
  const away = (one: Point) => Math.hypot(one[0] - point[0], one[1] - point[1]);
  return lines.flat().reduce((best, one) => (away(one) < away(best) ? one : best));
}

/** Side of the square whose area on the surface equals that of the pixel at a point, mm; NaN off the surface. */
function mmPerPxAt(surface: Surface, lens: Parameters<typeof sizeOn>[1], [x, y]: Point): number {
  const corners: Point[] = [
    [x - 0.5, y - 0.5],
    [x + 0.5, y - 0.5],
    [x + 0.5, y + 0.5],
    [x - 0.5, y + 0.5],
  ];
  return Math.sqrt(Math.abs(sizeOn(surface, lens, [corners], 'area') ?? Number.NaN));
}
