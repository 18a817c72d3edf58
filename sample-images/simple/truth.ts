import { project } from './camera.ts';
import { minus, type Vec } from './noise.ts';
import { RULE_ZERO_MM } from './plates.ts';
import { type Place, type Plate, plateCorners, plateFrame, pointOf } from './scene.ts';
import type { Shot } from './shot.ts';

type Px = [number, number];

/** What is true of a picture; points in px of the upright picture, sizes along the surface. */
export interface Truth {
  readonly file: string;
  readonly sha256: string;
  readonly bytes: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly orientation: number;
  readonly component: string;
  readonly zone: string;
  readonly shows: string;
  readonly cracks: readonly { readonly branches: readonly (readonly Px[])[]; readonly lengthMm: number }[];
  readonly patches: readonly { readonly outline: readonly Px[]; readonly areaMm2: number }[];
  readonly scale:
    | {
        readonly source: 'rectangle';
        readonly what: string;
        readonly corners: readonly Px[];
        readonly widthMm: number;
        readonly heightMm: number;
      }
    | {
        readonly source: 'known length';
        readonly what: string;
        readonly ends: readonly Px[];
        readonly lengthMm: number;
      }
    | null;
}

function length(points: readonly Vec[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i += 1) {
    const step = minus(points[i] ?? [0, 0, 0], points[i - 1] ?? [0, 0, 0]);
    sum += Math.hypot(...step);
  }
  return sum;
}

/** Area of an outline unrolled along the arc and the slope of the surface. */
function area(outline: readonly Place[]): number {
  const [first = [0, 0, 0] as Place] = outline;
  const along = ([a, , r]: Place) => Math.sign(a - first[0]) * Math.hypot(a - first[0], r - first[2]);
  let twice = 0;
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length] ?? p;
    twice += along(p) * q[1] - along(q) * p[1];
  });
  return Math.abs(twice) / 2;
}

const tenth = (x: number) => Math.round(x * 10) / 10;

function scaleOf(shot: Shot, plate: Plate | undefined): Truth['scale'] {
  if (plate === undefined) return null;
  const px = (point: Vec) => project(shot.camera, point);
  if (plate.kind !== 'rule') {
    return {
      source: 'rectangle',
      what: plate.kind === 'card' ? 'ID-1 card' : 'A5 sheet',
      corners: plateCorners(plate).map(px),
      widthMm: plate.widthMm,
      heightMm: plate.heightMm,
    };
  }
  const [u, v] = plateFrame(plate);
  const lengthMm = plate.widthMm - 2 * RULE_ZERO_MM;
  const edge = (along: number): Vec => {
    const k = RULE_ZERO_MM + along - plate.widthMm / 2;
    const h = -plate.heightMm / 2;
    const [x, y, z] = plate.centre;
    return [x + u[0] * k + v[0] * h, y + u[1] * k + v[1] * h, z + u[2] * k + v[2] * h];
  };
  return { source: 'known length', what: 'steel rule', ends: [px(edge(0)), px(edge(lengthMm))], lengthMm };
}

/** Puts the truth of a shot together. */
export function truthOf(shot: Shot, sha256: string, bytes: number): Truth {
  const part = shot.scene.parts[shot.subject];
  if (part === undefined) throw new Error(`Broken invariant: ${shot.name} has no part ${shot.subject}`);
  const px = (place: Place) => project(shot.camera, pointOf(part, place));
  return {
    file: `${shot.name}.jpg`,
    sha256,
    bytes,
    widthPx: shot.camera.widthPx,
    heightPx: shot.camera.heightPx,
    orientation: shot.orientation,
    component: shot.component,
    zone: shot.zone,
    shows: shot.shows,
    cracks: part.cracks.map(({ branches }) => ({
      branches: branches.map((line) => line.map(px)),
      lengthMm: tenth(branches.reduce((sum, line) => sum + length(line.map((one) => pointOf(part, one))), 0)),
    })),
    patches: part.patches.map(({ outline }) => ({
      outline: outline.map(px),
      areaMm2: Math.round(area(outline)),
    })),
    scale: scaleOf(shot, shot.scene.plates[0]),
  };
}
