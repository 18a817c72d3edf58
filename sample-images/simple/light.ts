import { add, blend, cross, dot, minus, ramp, times, tint, unit, type Vec } from './noise.ts';
import { plateSkin } from './plates.ts';
import { type Distance, distanceOf, type Scene } from './scene.ts';
import { type Form, groundSkin, partSkin, type Skin } from './surface.ts';

const SUN: Vec = [3.5, 3.15, 2.6];
const SKY: Vec = [0.54, 0.6, 0.7];
const BOUNCE: Vec = [0.3, 0.25, 0.19];
const FAR_MM = 4000;

/** What is seen along a ray: light, and how far away it comes from (mm; `FAR_MM` for the sky). */
export interface Seen {
  readonly light: Vec;
  readonly depthMm: number;
}

/** A scene made ready for rays. */
export interface Stage {
  readonly scene: Scene;
  readonly distance: Distance;
}

export function stageOf(scene: Scene): Stage {
  return { scene, distance: distanceOf(scene) };
}

function march(stage: Stage, from: Vec, dir: Vec): number {
  const { distance } = stage;
  let t = 0;
  for (let i = 0; i < 260; i += 1) {
    const d = distance(from[0] + dir[0] * t, from[1] + dir[1] * t, from[2] + dir[2] * t);
    if (d < 0.015 + t * 0.00006) return t;
    t += d * 0.96;
    if (t > FAR_MM) return FAR_MM;
  }
  return t;
}

/** Share of the sun that reaches a point, 0 … 1, with a soft border as the sun is no point. */
function sunlight(stage: Stage, point: Vec): number {
  const { distance, scene } = stage;
  const [sx, sy, sz] = scene.sun;
  let lit = 1;
  let t = 0.5;
  for (let i = 0; i < 90 && t < 900; i += 1) {
    const d = distance(point[0] + sx * t, point[1] + sy * t, point[2] + sz * t);
    if (d < 0.01) return 0;
    lit = Math.min(lit, (70 * d) / t);
    t += Math.max(0.12, d * 0.9);
  }
  return ramp(0, 1, lit);
}

/** Share of the open sky above a point of the surface, 0 … 1, from samples along its normal. */
function openness(stage: Stage, point: Vec, normal: Vec): number {
  let closed = 0;
  let weight = 1;
  for (const h of [1.5, 4, 9, 19, 38]) {
    const d = stage.distance(point[0] + normal[0] * h, point[1] + normal[1] * h, point[2] + normal[2] * h);
    closed += (weight * (h - Math.max(0, d))) / h;
    weight *= 0.82;
  }
  return Math.max(0.04, 1 - closed * 0.42);
}

function normalAt(stage: Stage, [x, y, z]: Vec): Vec {
  const { distance } = stage;
  const h = 0.32;
  return unit([
    distance(x + h, y, z) - distance(x - h, y, z),
    distance(x, y + h, z) - distance(x, y - h, z),
    distance(x, y, z + h) - distance(x, y, z - h),
  ]);
}

/** Sky, horizon and yard as mirrored in bare steel. */
function surroundings(scene: Scene, dir: Vec): Vec {
  const high = dot(dir, scene.up);
  if (high < 0) return blend([0.34, 0.29, 0.23], [0.1, 0.085, 0.07], ramp(0, 0.5, -high));
  return blend([0.95, 0.93, 0.88], [0.38, 0.45, 0.56], ramp(0.02, 0.6, high));
}

function formAt(stage: Stage, point: Vec, normal: Vec): Form {
  const at = (k: number) =>
    stage.distance(point[0] + normal[0] * k, point[1] + normal[1] * k, point[2] + normal[2] * k);
  return {
    edge: Math.min(1, Math.max(0, (2.6 + at(-2.6)) / 2.2)),
    hollow: Math.min(1, Math.max(0, (6 - at(6)) / 6)),
    facesUp: dot(normal, stage.scene.up),
  };
}

function skinAt(stage: Stage, body: number, point: Vec, form: Form): Skin {
  const { parts, plates, seed } = stage.scene;
  const part = parts[body];
  if (part !== undefined) return partSkin(part, point, form, seed + body * 977);
  const plate = plates[body - parts.length];
  return plate === undefined ? groundSkin(point, seed) : plateSkin(plate, point, seed);
}

/** The normal tilted by the fine height of the skin. */
function tilted(stage: Stage, body: number, point: Vec, normal: Vec, form: Form, here: Skin): Vec {
  const h = 0.3;
  const first = unit(cross(normal, Math.abs(normal[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0]));
  const second = cross(normal, first);
  const rise = (along: Vec) =>
    (skinAt(stage, body, add(point, times(along, h)), form).heightMm - here.heightMm) / h;
  const slope = add(times(first, rise(first)), times(second, rise(second)));
  return unit(minus(normal, times(slope, 0.8)));
}

/** Light that comes back along a ray. */
export function look(stage: Stage, eye: Vec, dir: Vec): Seen {
  const { scene, distance } = stage;
  const t = march(stage, eye, dir);
  if (t >= FAR_MM) return { light: surroundings(scene, dir), depthMm: FAR_MM };
  const point = add(eye, times(dir, t));
  distance(point[0], point[1], point[2]);
  const body = distance.nearest;
  const smooth = normalAt(stage, point);
  const form = formAt(stage, point, smooth);
  const skin = skinAt(stage, body, point, form);
  const normal = tilted(stage, body, point, smooth, form, skin);
  const start = add(point, times(smooth, 0.25));
  const open = openness(stage, start, smooth);
  const facing = Math.max(0, dot(normal, scene.sun));
  const sun = facing > 0 && dot(smooth, scene.sun) > -0.05 ? sunlight(stage, start) : 0;
  const upness = 0.5 + 0.5 * dot(normal, scene.up);
  const around = times(add(times(SKY, upness), times(BOUNCE, 1 - upness)), open);
  const direct = times(SUN, facing * sun);
  const diffuse = times(tint(skin.colour, add(direct, around)), 1 - skin.metal * 0.75);

  const mirror = minus(dir, times(normal, 2 * dot(dir, normal)));
  const grazing = (1 - Math.max(0, -dot(dir, normal))) ** 5;
  const gloss = (1 - skin.rough) ** 2;
  const strength = skin.metal * 0.85 + (1 - skin.metal) * (0.04 + 0.5 * grazing * gloss);
  const mirrored = blend(times(SKY, 0.7), surroundings(scene, mirror), 0.35 + 0.65 * gloss);
  const sharpness = 4 + 260 * gloss ** 2;
  const spark = Math.max(0, dot(mirror, scene.sun)) ** sharpness * (0.25 + gloss * 5) * sun;
  const base: Vec = blend([1, 1, 1], times(skin.colour, 2.2), skin.metal);
  const shine = tint(base, add(times(mirrored, open * (1 - skin.rough * 0.55)), times(SUN, spark)));
  return { light: add(diffuse, times(shine, strength)), depthMm: t };
}
