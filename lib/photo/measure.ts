import { ok, type Problem, type Result } from '../base/index.ts';
import type { Shape } from '../marks/index.ts';
import type { PhotoScale } from '../record/index.ts';
import { judgeMeasure, type PhotoMeasure } from './judgeMeasure.ts';
import { layOn, type PhotoScene, type Placed } from './laid.ts';
import type { Placing } from './placement.ts';
import type { Reference } from './reference.ts';
import { locateReference } from './scales.ts';
import { acrossOn, type CrackWays, crackWaysOn, measureOn, type SizeTaken } from './sizing.ts';

/** A photo whose reference has been located: measures any number of marks. */
export interface PhotoRuler {
  readonly scene: PhotoScene;
  readonly reference: Reference;
  /** The surface that a shape in this zone lies on. */
  placingFor(placed: Placed): Placing;
  /** Size of a shape, not judged. Fails when it has none, or when a line of sight misses the surface. */
  take(placed: Placed): Result<SizeTaken, Problem>;
  /** The same, judged: fails as well where the photo is too poor. */
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
  const taken = perShape((placed) => measureOn(reference, laid(placed), placed.shape));
  return ok({
    scene,
    reference,
    placingFor: (placed) => laid(placed).placing,
    take: taken,
    measure: (placed) => {
      const size = taken(placed);
      return size.ok ? judgeMeasure(size.value, placed.near ?? null) : size;
    },
    shareOfZone: (placed, areaMm2) => {
      const { zoneAreaMm2 } = laid(placed).placing;
      return zoneAreaMm2 === null ? null : areaMm2 / zoneAreaMm2;
    },
    mmPerPxAcross: (placed) => acrossOn(reference, laid(placed).placing, placed.shape),
    crackWays: perShape((placed) => crackWaysOn(reference, laid(placed).placing, placed.shape)),
  });
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

/** All that is told of a mark on a photo, but for how sharp and lit it is there; plain values, so that a worker can give them. */
export interface MarkMeasured {
  readonly size: Result<SizeTaken, Problem>;
  /** Of a crack; null for other marks and where it has no size. */
  readonly ways: CrackWays | null;
  /** Share of an area of its whole zone, all round the rim; null for other marks, and on a surface that is no zone. */
  readonly shareOfZone: number | null;
  /** Size of one pixel across a trace, mm. */
  readonly mmPerPxAcross: number | null;
  /** The surface it is taken on, in words; empty where the reference could not be located. */
  readonly surface: string;
}

/** Everything of one mark at once. */
export function measureMark(scene: PhotoScene, placed: Placed): MarkMeasured {
  const ruler = photoRuler(scene);
  if (!ruler.ok) {
    return { size: ruler, ways: null, shareOfZone: null, mmPerPxAcross: null, surface: '' };
  }
  const { take, crackWays, shareOfZone, mmPerPxAcross, placingFor } = ruler.value;
  const size = take(placed);
  const ways = size.ok && placed.shape.form === 'trace' ? crackWays(placed) : null;
  return {
    size,
    ways: ways?.ok === true ? ways.value : null,
    shareOfZone: size.ok && size.value.quantity === 'area' ? shareOfZone(placed, size.value.value) : null,
    mmPerPxAcross: mmPerPxAcross(placed),
    surface: placingFor(placed).what,
  };
}
