import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { ZoneId } from '../wheel/index.ts';
import { type Alignment, PICK_BY_HAND, type PointPair, quantileOf } from './alignment.ts';
import { filledShifts } from './gatheredNet.ts';
import { type Homography, homographyFrom, mapPoint, type Point } from './homography.ts';
import type { PhotoScene } from './laid.ts';
import { runsOf } from './lathe.ts';
import { photoRuler } from './measure.ts';
import { isInside, type Net, netNodes, type PhotoMap, type PictureSize } from './photoMap.ts';
import { overlapOf } from './plausible.ts';
import { profileOf } from './profile.ts';
import { type RimPose, type RimWay, rimWayThrough } from './rimFit.ts';

/** What a photo’s record says of the rim before the camera. */
export interface RimScene {
  readonly scene: PhotoScene;
  readonly slot: string;
  readonly zone: ZoneId;
}

/** Own choices; a px is one of a picture 1600 px wide. */
const BORNE_OUT = { nearPx: 4, inliersMin: 25, shareMin: 0.4 } as const;
/** Pairs missed by more lie on something else: the floor, another part. They say nothing of the error on the rim. */
const ELSEWHERE_PX = 20;
/** Width of the picture that the choices are made for, px. */
const UNIT_WIDTH_PX = 1600;

function poseOf({ scene, slot, zone }: RimScene, size: PictureSize): RimPose | null {
  const ruler = photoRuler(scene);
  if (!ruler.ok) return null;
  const { reference, placingFor } = ruler.value;
  const middle: [number, number] = [(size.widthPx - 1) / 2, (size.heightPx - 1) / 2];
  const view = reference.viewOf(reference.estimate.values);
  const axle = placingFor({ shape: { form: 'spot', at: middle }, slot, zone }).axleOf(view);
  return axle === null ? null : { lens: view.lens, axle };
}

/**
 * Lays two photos over each other by the rim that both show: each photo’s reference and the section of the rim tell about
 * how it stands before the camera, pairs of points found in both tell the rest. That follows steps and grooves, which no
 * plane does. Every second pair is held against the fit through the others; what is
 * missed by more than 20 px of 1600 lies on something else and does not count into the error. Fails where a photo has no reference on a
 * round surface, or where the pairs do not agree with the section: real rims differ from ours.
 */
export function alignOnRim(
  first: RimScene,
  second: RimScene,
  from: PictureSize,
  to: PictureSize,
  pairs: readonly PointPair[],
): Result<Alignment, Problem> {
  const [one, other] = [poseOf(first, from), poseOf(second, to)];
  const section = first.scene.section;
  const part = section?.parts.find(({ slot }) => slot === first.slot);
  if (one === null || other === null || section === null || part === undefined)
    return refused('no pose', 'A photo has no reference from which the rim could be placed');
  const runs = runsOf(profileOf(section, part).pieces);
  const unitPx = Math.max(to.widthPx, to.heightPx) / UNIT_WIDTH_PX;
  const through = (list: readonly PointPair[]) => rimWayThrough(runs, one, other, list, unitPx);
  const missed = [0, 1].flatMap((half) => {
    const way = through(pairs.filter((_, i) => i % 2 !== half));
    return pairs.filter((_, i) => i % 2 === half).map((pair) => missOf(way.forth, pair));
  });
  const inliers = missed.filter((px) => px < BORNE_OUT.nearPx * unitPx).length;
  if (inliers < BORNE_OUT.inliersMin || inliers < BORNE_OUT.shareMin * pairs.length)
    return refused(inliers, 'What both photos show does not agree with the section of the rim');
  const onRim = missed.filter((px) => px < ELSEWHERE_PX * unitPx);
  const { forth, back } = through(pairs);
  const [map, turned] = [mapOfWay(forth, from, to), mapOfWay(back, to, from)];
  if (map === null || turned === null)
    return refused('off the rim', 'Too little of the rim is seen in both photos');
  return ok({
    map: { ...map, back: { homography: turned.homography, net: turned.net } },
    method: 'rim surface',
    medianPx: quantileOf(onRim, 0.5),
    p95Px: quantileOf(onRim, 0.95),
    inliers,
    overlapShare: overlapOf(map),
  });
}

function missOf(way: RimWay, { from, to }: PointPair): number {
  const there = way(from);
  return there === null ? Number.MAX_SAFE_INTEGER : Math.hypot(there[0] - to[0], there[1] - to[1]);
}

function refused(value: unknown, message: string): Result<never, Problem> {
  return fail(problem('alignment-rim', 'photo', value, message, PICK_BY_HAND));
}

const COLUMNS = 40;
const ROWS = 30;

/** A way by the rim as a map: the plane that suits it best, and a fine net of what is left over; null where little is met. */
function mapOfWay(way: RimWay, from: PictureSize, to: PictureSize): PhotoMap | null {
  const nodes = netNodes(from, COLUMNS, ROWS);
  const there = nodes.map(way);
  const met = there.map((point) => point !== null && isInside(to, point));
  const both = nodes.flatMap((node, i) => {
    const point = there[i];
    return met[i] === true && point ? [{ node, point }] : [];
  });
  if (both.length < 0.05 * nodes.length) return null;
  const plane = homographyFrom(
    both.map(({ node }) => node),
    both.map(({ point }) => point),
  );
  if (!plane.ok) return null;
  return { from, to, homography: plane.value, net: netOf(plane.value, nodes, there, met) };
}

function netOf(
  plane: Homography,
  nodes: readonly Point[],
  there: readonly (Point | null)[],
  known: readonly boolean[],
): Net {
  const shifts = nodes.map((node, i): Point | null => {
    const point = there[i];
    if (known[i] !== true || !point) return null;
    const [x, y] = mapPoint(plane, node);
    return [point[0] - x, point[1] - y];
  });
  return { columns: COLUMNS, rows: ROWS, shiftsPx: filledShifts(COLUMNS, ROWS, shifts), known };
}
