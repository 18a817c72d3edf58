import { project, rayThrough } from './camera.ts';
import type { Point } from './homography.ts';
import type { Placed } from './laid.ts';
import type { PhotoRuler } from './measure.ts';
import { atBest } from './placement.ts';
import type { View } from './reference.ts';
import type { Meeting, Surface } from './surface.ts';
import { distance } from './vector.ts';

/** A line of the measuring grid, px of the upright picture. */
export interface GridLine {
  readonly points: readonly Point[];
  /** Every fifth line, and the edges of the zone. */
  readonly strong: boolean;
}

/** The measuring grid on the surface of a mark: lines a fixed way apart on the metal. */
export interface Grid {
  readonly meshMm: number;
  readonly lines: readonly GridLine[];
}

const MESHES_MM = [5, 10, 20, 50];
/** About as many meshes across the larger side; more hide the photo. */
const MESHES_ACROSS = 24;
/** How far the grid reaches round the mark and the reference, as a share of their size and at least, mm. */
const MARGIN_SHARE = 0.25;
const MARGIN_MM = 25;
/** A point of the grid is hidden when the line of sight to it meets the surface this much earlier, mm. */
const HIDDEN_MM = 3;

interface Range {
  readonly from: number;
  readonly to: number;
  readonly unitMm: number;
}

function rangeOf(values: readonly number[], unitMm: number): Range {
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const margin = Math.max(MARGIN_MM / unitMm, (most - least) * MARGIN_SHARE);
  return { from: least - margin, to: most + margin, unitMm };
}

const sizeMm = ({ from, to, unitMm }: Range) => (to - from) * unitMm;

/**
 * The grid that is laid on the photo, so that a wrong surface is seen at once: on a right one its lines run round the
 * rim and across it, as far apart as the metal says. Null when the mark does not meet its surface.
 */
export function gridOf(ruler: PhotoRuler, placed: Placed, points: readonly Point[]): Grid | null {
  const placing = ruler.placingFor(placed);
  const { view, surface } = atBest(ruler.reference, placing);
  const met = points.map((point) => surface.meet(rayThrough(view.lens, point))).filter((one) => one !== null);
  const [first] = met;
  if (first === undefined) return null;
  const units = surface.unitsAt(first);
  const ranges = [0, 1].map((k) =>
    rangeOf(
      met.map(({ chart }) => chart[k] ?? 0),
      units[k] ?? 1,
    ),
  ) as [Range, Range];
  const largest = Math.max(...ranges.map(sizeMm));
  const meshMm = MESHES_MM.find((mesh) => largest / mesh <= MESHES_ACROSS) ?? (MESHES_MM.at(-1) as number);
  const origin = first.chart;
  return {
    meshMm,
    lines: [
      ...([0, 1] as const).flatMap((fixed) => linesAcross(surface, view, ranges, fixed, meshMm, origin)),
      ...surface.edges.flatMap((edge) => lineAt(surface, view, ranges[1], 0, edge, meshMm, true)),
    ],
  };
}

/** Lines on which one chart coordinate is constant. */
function linesAcross(
  surface: Surface,
  view: View,
  ranges: readonly [Range, Range],
  fixed: 0 | 1,
  meshMm: number,
  origin: Meeting['chart'],
): GridLine[] {
  const still = ranges[fixed];
  const mesh = meshMm / still.unitMm;
  const first = Math.ceil((still.from - origin[fixed]) / mesh);
  const last = Math.floor((still.to - origin[fixed]) / mesh);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => first + i).flatMap((index) =>
    lineAt(
      surface,
      view,
      ranges[fixed === 0 ? 1 : 0],
      fixed,
      origin[fixed] + index * mesh,
      meshMm,
      index % 5 === 0,
    ),
  );
}

/** The visible runs of the line on which one chart coordinate has this value. */
function lineAt(
  surface: Surface,
  view: View,
  moving: Range,
  fixed: 0 | 1,
  at: number,
  meshMm: number,
  strong: boolean,
): GridLine[] {
  const lines: GridLine[] = [];
  const step = Math.min(meshMm, 5) / moving.unitMm;
  let run: Point[] = [];
  const end = () => {
    if (run.length > 1) lines.push({ points: run, strong });
    run = [];
  };
  for (let along = moving.from; along <= moving.to; along += step) {
    const seen = pictured(surface, view, fixed === 0 ? [at, along] : [along, at]);
    if (seen === null) end();
    else run.push(seen);
  }
  end();
  return lines;
}

/** Where a point of the surface is in the picture; null where the surface hides it or ends. */
function pictured(surface: Surface, view: View, chart: readonly [number, number]): Point | null {
  const point = surface.pointAt(chart);
  if (point === null || point[2] <= 0) return null;
  const pixel = project(view.lens, point);
  const met = surface.meet(rayThrough(view.lens, pixel));
  return met === null || distance(met.point, point) > HIDDEN_MM ? null : pixel;
}
