import { meanNormal } from './pieces.ts';
import type { ProfilePiece, ProfilePoint } from './profile.ts';
import { areaUnder, type Surface } from './surface.ts';
import { along, cross, dot, norm, scaled, subtract, type Vec3 } from './vector.ts';

/** Where a profile stands in camera axes. */
export interface Axle {
  /** A point on the axle, and the axial coordinate of the profile there. */
  readonly point: Vec3;
  readonly axialMm: number;
  /** Along the axle towards the gutter side, unit length. */
  readonly direction: Vec3;
  /** Any direction at right angles to the axle, unit length; angles count from it. */
  readonly outward: Vec3;
}

/** Play at the joints between pieces, mm, so that no line of sight slips through. */
const JOINT_MM = 0.05;
/** How far the first and the last piece of a run go on past their ends, mm. */
const RUN_OUT_MM = 150;

interface LathePiece extends ProfilePiece {
  readonly lengthMm: number;
  /** Way along the profile at its start, mm. */
  readonly startMm: number;
  /** Whether it only continues the surface past an end of a run: from its start, or up to its end. */
  readonly runOut: 'from its start' | 'up to its end' | null;
  /** From its start to its end, axially and in radius, mm; and the one over the other, null on a face. */
  readonly dx: number;
  readonly dr: number;
  readonly slope: number | null;
}

/** Pieces steeper than this are flat faces. */
const FACE_SHARE = 1e-4;

/** Pieces in runs, ready to be turned. */
export type LatheRuns = readonly LathePiece[];

function lathePiece(
  { from, to, normal, zone }: ProfilePiece,
  runOut: LathePiece['runOut'],
  startMm: number,
): LathePiece {
  const [dx, dr] = [to[0] - from[0], to[1] - from[1]];
  const lengthMm = Math.sqrt(dx * dx + dr * dr);
  const slope = Math.abs(dx) < FACE_SHARE * Math.abs(dr) ? null : dr / dx;
  return { from, to, normal, zone, lengthMm, startMm, runOut, dx, dr, slope };
}

/** The same runs with every point moved, a little: how pieces join and face does not change. */
export function movedRuns(runs: LatheRuns, move: (point: ProfilePoint) => ProfilePoint): LatheRuns {
  let way = 0;
  return runs.map((piece) => {
    const made = lathePiece(
      { from: move(piece.from), to: move(piece.to), normal: piece.normal, zone: piece.zone },
      piece.runOut,
      way,
    );
    way += made.lengthMm;
    return made;
  });
}

/** Pieces that turn further than this from the run as a whole are not continued in their own direction: cos 60°. */
const OWN_DIRECTION = 0.5;

/**
 * Gives pieces a common way along the profile, and continues every run of joined pieces at both ends: in the end
 * piece’s own direction, or, where that is a wall, level with the run.
 */
export function runsOf(pieces: readonly ProfilePiece[]): LatheRuns {
  const all: LathePiece[] = [];
  let way = 0;
  const put = (piece: ProfilePiece, runOut: LathePiece['runOut']) => {
    const made = lathePiece(piece, runOut, way);
    all.push(made);
    way += made.lengthMm;
  };
  for (const run of joinedRuns(pieces)) {
    const [first, last] = [run[0], run.at(-1)];
    if (first === undefined || last === undefined) continue;
    const level = meanNormal(run);
    put(runOutOf(first, level, -1), 'up to its end');
    for (const piece of run) put(piece, null);
    put(runOutOf(last, level, 1), 'from its start');
  }
  return all;
}

function joinedRuns(pieces: readonly ProfilePiece[]): ProfilePiece[][] {
  const found: ProfilePiece[][] = [];
  for (const piece of pieces) {
    const end = found.at(-1)?.at(-1)?.to;
    if (end !== undefined && Math.hypot(end[0] - piece.from[0], end[1] - piece.from[1]) < JOINT_MM)
      found.at(-1)?.push(piece);
    else found.push([piece]);
  }
  return found;
}

/** The continuation of a run past its last piece (`way` 1) or before its first (−1). */
function runOutOf(piece: ProfilePiece, level: ProfilePoint, way: 1 | -1): ProfilePiece {
  const own = piece.normal[0] * level[0] + piece.normal[1] * level[1] > OWN_DIRECTION * Math.hypot(...level);
  const size = Math.hypot(...level) || 1;
  const normal: ProfilePoint = own ? piece.normal : [level[0] / size, level[1] / size];
  // The outline’s direction, with the metal on the same side as along the piece.
  const [dx, dr] = [piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]];
  const turn = Math.sign(dx * piece.normal[1] - dr * piece.normal[0]);
  const step: ProfilePoint = [turn * normal[1] * RUN_OUT_MM * way, -turn * normal[0] * RUN_OUT_MM * way];
  const end = way === 1 ? piece.to : piece.from;
  const beyond: ProfilePoint = [end[0] + step[0], end[1] + step[1]];
  return { from: way === 1 ? end : beyond, to: way === 1 ? beyond : end, normal, zone: piece.zone };
}

/**
 * A profile turned about its axle: cylinders, cones and flat faces. One piece with a radius is a cylinder or a cone;
 * the pieces of a zone are that zone; all pieces of a part are the part. Only metal that faces the camera is met. The
 * ends of runs go on straight for a few centimetres, because a mark may lie on the edge of its zone.
 */
export function lathe(pieces: readonly ProfilePiece[], axle: Axle): Surface {
  return turned(runsOf(pieces), axle);
}

/** The same for runs made beforehand. */
export function turned(all: LatheRuns, axle: Axle): Surface {
  const sideways = cross(axle.direction, axle.outward);
  // Coordinates of the camera in the axes of the axle.
  const from = scaled(axle.point, -1);
  const start = [
    dot(from, axle.direction) + axle.axialMm,
    dot(from, axle.outward),
    dot(from, sideways),
  ] as const;
  return {
    meet(sight) {
      const way = [dot(sight, axle.direction), dot(sight, axle.outward), dot(sight, sideways)] as const;
      const hit = firstHit(all, start, way);
      if (hit === null) return null;
      const { far, piece, share, strayMm } = hit;
      const point = scaled(sight, far);
      const [y, z] = [start[1] + way[1] * far, start[2] + way[2] * far];
      const radius = Math.sqrt(y * y + z * z);
      const radial = along(scaled(axle.outward, y / radius), sideways, z / radius);
      const normal = along(scaled(axle.direction, piece.normal[0]), radial, piece.normal[1]);
      const chartWay = piece.startMm + share * piece.lengthMm;
      return { point, normal, chart: [chartWay, Math.atan2(z, y)], zone: piece.zone, strayMm };
    },
    areaOf: (outline) => areaUnder(outline, (first) => radiusIntegral(all, first)),
    get edges() {
      return edgesOf(all);
    },
    pointAt([wayMm, angle]) {
      const piece = all.find(
        ({ startMm, lengthMm, runOut }) =>
          runOut === null && wayMm >= startMm - 1e-9 && wayMm <= startMm + lengthMm + 1e-9,
      );
      if (piece === undefined) return null;
      const share = (wayMm - piece.startMm) / piece.lengthMm;
      const axial = piece.from[0] + share * (piece.to[0] - piece.from[0]) - axle.axialMm;
      const radius = piece.from[1] + share * (piece.to[1] - piece.from[1]);
      const radial = along(scaled(axle.outward, Math.cos(angle)), sideways, Math.sin(angle));
      return along(along(axle.point, axle.direction, axial), radial, radius);
    },
    unitsAt({ point }) {
      const off = subtract(point, axle.point);
      return [1, norm(along(off, axle.direction, -dot(off, axle.direction)))];
    },
  };
}

/** Two pieces that meet at more than this angle make an edge that is seen: cos 25°. */
const SEEN_EDGE = 0.906;

/** Ways along a profile at which it ends or turns sharply. */
function edgesOf(pieces: readonly LathePiece[]): number[] {
  return pieces.flatMap((piece, i) => {
    const before = pieces[i - 1];
    if (before === undefined || (piece.runOut !== null && before.runOut !== null)) return [];
    if (piece.runOut !== null || before.runOut !== null) return [piece.startMm];
    const turn = piece.normal[0] * before.normal[0] + piece.normal[1] * before.normal[1];
    return turn < SEEN_EDGE ? [piece.startMm] : [];
  });
}

/** Integral of the radius along the profile up to a way, mm². */
function radiusIntegral(pieces: readonly LathePiece[], way: number): number {
  let sum = 0;
  for (const piece of pieces) {
    const reach = Math.min(way - piece.startMm, piece.lengthMm);
    if (reach <= 0) break;
    const slope = (piece.to[1] - piece.from[1]) / piece.lengthMm;
    sum += piece.from[1] * reach + (slope * reach * reach) / 2;
  }
  return sum;
}

type Triple = readonly [number, number, number];

/** Where a line of sight meets a piece: how far along the line, and the share of the way along the piece. */
interface Hit {
  far: number;
  piece: LathePiece;
  share: number;
  strayMm: number;
}

/**
 * What a line of sight meets first: the nearest metal that faces the camera; where there is none, what strays least
 * from it. Written without making anything on the way: it is asked many thousand times for one uncertainty.
 */
function firstHit(pieces: readonly LathePiece[], start: Triple, way: Triple): Hit | null {
  const a0 = way[1] * way[1] + way[2] * way[2];
  const b0 = start[1] * way[1] + start[2] * way[2];
  const c0 = start[1] * start[1] + start[2] * start[2];
  let best: Hit | null = null;
  const take = (piece: LathePiece, far: number) => {
    const share = shareAt(piece, start, way, far);
    if (Number.isNaN(share)) return;
    const past = piece.runOut === null ? 0 : piece.runOut === 'from its start' ? share : 1 - share;
    const strayMm = Math.max(0, past * piece.lengthMm);
    if (best === null || strayMm < best.strayMm || (strayMm === best.strayMm && far < best.far))
      best = { far, piece, share, strayMm };
  };
  for (const piece of pieces) {
    if (piece.slope === null) {
      if (way[0] !== 0) take(piece, (piece.from[0] - start[0]) / way[0]);
      continue;
    }
    // The endless cone or cylinder: y² + z² = (r₀ + slope · (x − x₀))² along the line of sight.
    const r0 = piece.from[1] + piece.slope * (start[0] - piece.from[0]);
    const r1 = piece.slope * way[0];
    const [a, b, c] = [a0 - r1 * r1, b0 - r0 * r1, c0 - r0 * r0];
    if (Math.abs(a) < 1e-12) {
      if (b !== 0) take(piece, -c / (2 * b));
      continue;
    }
    const root = b * b - a * c;
    if (root < 0) continue;
    const s = Math.sqrt(root);
    take(piece, (-b - s) / a);
    take(piece, (-b + s) / a);
  }
  return best;
}

/** Nearest that metal can be to the camera, mm. */
const NEAREST_MM = 1e-6;

/** Share of the way along a piece at a crossing; NaN off the piece or on metal that faces away from the camera. */
function shareAt(piece: LathePiece, start: Triple, way: Triple, far: number): number {
  if (!(far > NEAREST_MM)) return Number.NaN;
  const y = start[1] + way[1] * far;
  const z = start[2] + way[2] * far;
  const radius = Math.sqrt(y * y + z * z);
  const dx = start[0] + way[0] * far - piece.from[0];
  const dr = radius - piece.from[1];
  const reach = (dx * piece.dx + dr * piece.dr) / piece.lengthMm;
  if (reach < -JOINT_MM || reach > piece.lengthMm + JOINT_MM) return Number.NaN;
  // The other nappe of the cone has negative radii and lies off the piece’s line.
  const off = Math.abs(dx * piece.dr - dr * piece.dx) / piece.lengthMm;
  if (off > 1e-3 * (1 + radius)) return Number.NaN;
  const facing = piece.normal[0] * way[0] + (piece.normal[1] * (y * way[1] + z * way[2])) / radius;
  return facing >= 0 ? Number.NaN : reach / piece.lengthMm;
}
