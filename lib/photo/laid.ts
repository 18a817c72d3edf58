import type { PointPx, Shape } from '../marks/index.ts';
import type { FiguresNear, PhotoCamera, PhotoScale, SurfaceChoice } from '../record/index.ts';
import type { Section, ZoneId } from '../wheel/index.ts';
import { rayThrough } from './camera.ts';
import type { Point } from './homography.ts';
import { atBest, type Placing } from './placement.ts';
import { isOwnChoice, placingOf, unlikeItsZone } from './placing.ts';
import { type Propagated, propagate } from './propagate.ts';
import { QUALITY_LIMITS } from './qualityLimits.ts';
import type { Reference } from './reference.ts';
import { PICK_U_PX, referenceSizeMm } from './scales.ts';
import type { Taking } from './size.ts';
import { obliquityAt } from './surface.ts';

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
  /** How the photo shows the shape, see `figuresNear`; left out or null: nobody looked, and it is not judged. */
  readonly near?: FiguresNear | null;
  /** Slot of the part in its construction; null where the part is not placed. */
  readonly slot: string | null;
  readonly zone: ZoneId;
}

/** The lines of a shape that its size is taken from; null for shapes without a size. */
export function sizedLines(shape: Shape): { taking: Taking; lines: readonly (readonly PointPx[])[] } | null {
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

/** A shape on its surface, and the size found there; null for shapes without a size, and where a point misses it. */
export interface Laid {
  readonly placing: Placing;
  readonly size: Propagated | null;
}

/** Lays a shape on the surface chosen for it; where the program chose and the shape does not fit it, on none. */
export function layOn(reference: Reference, scene: PhotoScene, { shape, slot, zone }: Placed): Laid {
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
  if (sized === null || !isOwnChoice(scene.surface)) return first;
  return first.size === null || isGrazed(reference, first.placing, marksPx) ? on(unlikeItsZone()) : first;
}

/** Whether the lines of sight to most points graze the surface: beyond the obliquity that refuses a size. */
function isGrazed(reference: Reference, placing: Placing, points: readonly Point[]): boolean {
  const { view, surface } = atBest(reference, placing);
  const limit = (QUALITY_LIMITS.obliquity.refuse * Math.PI) / 180;
  const grazed = points.filter((point) => {
    const met = surface.meet(rayThrough(view.lens, point));
    return met !== null && obliquityAt(met) > limit;
  });
  return 2 * grazed.length > points.length;
}
