import { must } from '../../lib/base/index.ts';
import type { Point, Profile, ProfilePiece } from '../../lib/photo/index.ts';
import { type Chance, inCamera, onRim, pictured, type Truth } from './truth.ts';

type Triple = readonly [number, number, number];

/** A mark put on a rim by us, with its true size: where it is in the rim’s frame and in the picture. */
export interface TrueMark {
  readonly kind: 'crack' | 'area' | 'gap';
  /** Length in mm or area in mm². */
  readonly size: number;
  readonly px: readonly Point[];
  readonly rimMm: readonly Triple[];
}

const distance = (a: Triple, b: Triple) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** A zone’s pieces joined to one way along the profile. */
class Way {
  readonly lengthMm: number;
  readonly #pieces: readonly ProfilePiece[];
  constructor(pieces: readonly ProfilePiece[]) {
    this.#pieces = pieces;
    this.lengthMm = pieces.reduce((sum, piece) => sum + lengthOf(piece), 0);
  }
  at(way: number): { axial: number; radius: number; normal: readonly [number, number] } {
    let left = Math.min(Math.max(way, 0), this.lengthMm - 1e-6);
    for (const piece of this.#pieces) {
      const length = lengthOf(piece);
      if (left <= length) {
        const share = left / length;
        return {
          axial: piece.from[0] + share * (piece.to[0] - piece.from[0]),
          radius: piece.from[1] + share * (piece.to[1] - piece.from[1]),
          normal: piece.normal,
        };
      }
      left -= length;
    }
    throw new Error('past the end of a zone');
  }
}

const lengthOf = ({ from, to }: ProfilePiece) => Math.hypot(to[0] - from[0], to[1] - from[1]);

/** Whether a point of the surface faces the camera within 75° and lies well inside the picture. */
function isSeen(truth: Truth, point: Triple, normal: Triple, px: Point | null): boolean {
  if (px === null) return false;
  const margin = 0.03 * truth.widthPx;
  if (px[0] < margin || px[1] < margin || px[0] > truth.widthPx - margin || px[1] > truth.heightPx - margin)
    return false;
  const tip: Triple = [point[0] + normal[0], point[1] + normal[1], point[2] + normal[2]];
  const [p, q] = [inCamera(truth, point), inCamera(truth, tip)];
  const n: Triple = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
  const facing = -(n[0] * p[0] + n[1] * p[1] + n[2] * p[2]) / Math.hypot(...p);
  return facing > Math.cos((75 * Math.PI) / 180);
}

/** Whether other metal of the part hides a point: the line of sight is walked towards the camera in small steps. */
function isHidden(truth: Truth, profile: Profile, point: Triple): boolean {
  const eye = eyeOf(truth);
  const far = distance(point, eye);
  const way: Triple = [(eye[0] - point[0]) / far, (eye[1] - point[1]) / far, (eye[2] - point[2]) / far];
  let before: [number, number] | null = null;
  for (let step = 1; step < 200; step += 1.5) {
    const at: Triple = [point[0] + way[0] * step, point[1] + way[1] * step, point[2] + way[2] * step];
    const here: [number, number] = [at[0], Math.hypot(at[1], at[2])];
    if (before !== null && profile.pieces.some((piece) => crosses(before as [number, number], here, piece)))
      return true;
    before = here;
  }
  return false;
}

function crosses(
  a: readonly [number, number],
  b: readonly [number, number],
  { from, to }: ProfilePiece,
): boolean {
  const side = (p: readonly [number, number], q: readonly [number, number], r: readonly [number, number]) =>
    Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
  return side(a, b, from) !== side(a, b, to) && side(from, to, a) !== side(from, to, b);
}

/** The camera in the rim’s frame. */
function eyeOf({ camera: { rotation, translationMm: t } }: Truth): Triple {
  return [0, 1, 2].map(
    (j) => -[0, 1, 2].reduce((sum, i) => sum + must(rotation[i], 'row')[j as 0] * must(t[i], 'shift'), 0),
  ) as unknown as Triple;
}

interface Zone {
  readonly truth: Truth;
  readonly profile: Profile;
  readonly way: Way;
}

export function zoneWay(truth: Truth, profile: Profile, pieces: readonly ProfilePiece[]): Zone {
  return { truth, profile, way: new Way(pieces) };
}

/** Points of a mark given on the zone (way along the profile, angle), with their pixels; null where one is not seen. */
export function seen(
  { truth, profile, way }: Zone,
  points: readonly (readonly [number, number])[],
): { rimMm: Triple[]; px: Point[] } | null {
  const rimMm: Triple[] = [];
  const px: Point[] = [];
  for (const [along, angle] of points) {
    const { axial, radius, normal } = way.at(along);
    const point = onRim(axial, radius, angle);
    const out: Triple = [normal[0], normal[1] * Math.sin(angle), normal[1] * Math.cos(angle)];
    const pixel = pictured(truth, point);
    if (!isSeen(truth, point, out, pixel) || isHidden(truth, profile, point)) return null;
    rimMm.push(point);
    px.push(pixel as Point);
  }
  return { rimMm, px };
}

const clockAngle = (truth: Truth) => (truth.clock * Math.PI) / 6;

/** A crack of 30 to 130 mm running round the rim or slantwise, wavering a little. */
export function crackOn(zone: Zone, chance: Chance): TrueMark | null {
  const { way, truth } = zone;
  const length = chance.uniform(30, 130);
  const start = chance.uniform(0.1, 0.9) * way.lengthMm;
  const slope = chance.uniform(-0.4, 0.4);
  const { radius } = way.at(start);
  const from = clockAngle(truth) + chance.uniform(-110, 60) / radius;
  const n = Math.ceil(length / 2);
  const bends = chance.uniform(0, 2 * Math.PI);
  const points = Array.from({ length: n + 1 }, (_, i) => {
    const s = (i / n) * length * Math.cos(slope);
    const along = start + (i / n) * length * Math.sin(slope) + 1.5 * Math.sin(bends + s / 12);
    return [Math.min(Math.max(along, 0.3), way.lengthMm - 0.3), from + s / radius] as const;
  });
  const at = seen(zone, points);
  if (at === null) return null;
  const size = at.rimMm.reduce(
    (sum, p, i) => (i === 0 ? 0 : sum + distance(p, must(at.rimMm[i - 1], 'point'))),
    0,
  );
  return { kind: 'crack', size, px: every(at.px, 3), rimMm: at.rimMm };
}

/** A patch with a wavy outline, 15 to 60 mm across; its true area by summing thin strips on the surface. */
export function patchOn(zone: Zone, chance: Chance): TrueMark | null {
  const { way, truth } = zone;
  const across = Math.min(chance.uniform(15, 60), way.lengthMm * 0.9);
  if (across < 8) return null;
  const middle = chance.uniform(across / 2, way.lengthMm - across / 2);
  const round = across * chance.uniform(0.8, 1.8);
  const { radius } = way.at(middle);
  const angle = clockAngle(truth) + chance.uniform(-90, 90) / radius;
  const [a, b] = [chance.uniform(0, 6.28), chance.uniform(0, 6.28)];
  const wave = (t: number) => 1 - 0.1 + 0.06 * Math.sin(3 * t + a) + 0.04 * Math.sin(5 * t + b);
  const n = 120;
  const outline = Array.from({ length: n }, (_, i) => {
    const t = (2 * Math.PI * i) / n;
    return [
      middle + (across / 2) * wave(t) * Math.sin(t),
      angle + ((round / 2) * wave(t) * Math.cos(t)) / radius,
    ] as const;
  });
  const at = seen(zone, outline);
  if (at === null) return null;
  // Green’s theorem on the surface: ∮ θ · r(s) ds.
  let size = 0;
  for (let i = 0; i < n; i += 1) {
    const [s0, t0] = must(outline[i], 'point');
    const [s1, t1] = must(outline[(i + 1) % n], 'point');
    size += ((t0 + t1) / 2 - angle) * way.at((s0 + s1) / 2).radius * (s1 - s0);
  }
  return { kind: 'area', size: Math.abs(size), px: every(at.px, 2), rimMm: at.rimMm };
}

/** A gap with parallel ends, 2 to 30 mm wide, across a lock ring’s body. */
export function gapOn(
  zone: Zone,
  chance: Chance,
  size = chance.uniform(2, 30),
  away = chance.uniform(-60, 60),
): TrueMark | null {
  const { way, truth } = zone;
  const { axial, radius, normal } = way.at(way.lengthMm * chance.uniform(0.3, 0.7));
  const angle = clockAngle(truth) + away / radius;
  const half = Math.asin(size / 2 / radius);
  const points = [angle - half, angle + half].map((one) => onRim(axial, radius, one));
  const px = points.map((point) => pictured(truth, point));
  const seenBoth = points.every((point, i) =>
    isSeen(
      truth,
      point,
      [normal[0], normal[1] * Math.sin(angle), normal[1] * Math.cos(angle)],
      px[i] ?? null,
    ),
  );
  return seenBoth ? { kind: 'gap', size, px: px as Point[], rimMm: points } : null;
}

/** About every k-th point, ends included: as a hand sets them. */
function every<T>(list: readonly T[], k: number): T[] {
  return list.filter((_, i) => i % k === 0 || i === list.length - 1);
}
