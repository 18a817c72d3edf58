import { blend, layers, noise, ramp, type Vec } from './noise.ts';
import { type Finish, type Part, type Place, placeOf } from './scene.ts';

/** What a ray sees of a surface: its colour, how metallic and rough it is, and its fine height, mm. */
export interface Skin {
  readonly colour: Vec;
  readonly metal: number;
  readonly rough: number;
  readonly heightMm: number;
}

const STEEL: Vec = [0.26, 0.255, 0.25];
const MILL: Vec = [0.13, 0.125, 0.125];
const PRIMER: Vec = [0.2, 0.075, 0.05];
const RUST_LIGHT: Vec = [0.36, 0.135, 0.035];
const RUST_DARK: Vec = [0.095, 0.032, 0.014];
const DUST: Vec = [0.36, 0.27, 0.18];
const SOOT: Vec = [0.03, 0.027, 0.024];

/** How the shape is around a point: sharp edges and hollows, 0 … 1, and how far it faces up, −1 … 1. */
export interface Form {
  readonly edge: number;
  readonly hollow: number;
  readonly facesUp: number;
}

function within([from, to]: readonly [number, number], x: number, soft: number): number {
  return ramp(from - soft, from + soft, x) * (1 - ramp(to - soft, to + soft, x));
}

function polishedAt(finish: Finish, [a, , r]: Place): number {
  return finish.polished.reduce(
    (most, zone) => Math.max(most, within(zone.a, a, 0.9) * within(zone.r, r, 0.9)),
    0,
  );
}

/** How far round a crack its rust reaches at most, mm. */
const HALO_MM = 4;

/** How far the ragged border of a patch reaches at most, mm. */
const FRAY_MM = 6;

/** Distance of a place to a line of places, mm; infinite where it is too far away to be seen. */
function lineDistance([a, arc, r]: Place, line: readonly Place[]): number {
  const arcs = line.map((one) => one[1]);
  if (arc < Math.min(...arcs) - HALO_MM || arc > Math.max(...arcs) + HALO_MM) return Infinity;
  let best = Infinity;
  for (let i = 1; i < line.length; i += 1) {
    const [p, q] = [line[i - 1] ?? [0, 0, 0], line[i] ?? [0, 0, 0]];
    const [ex, ey, ez] = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
    const [wx, wy, wz] = [a - p[0], arc - p[1], r - p[2]];
    const t = Math.max(0, Math.min(1, (wx * ex + wy * ey + wz * ez) / (ex * ex + ey * ey + ez * ez)));
    best = Math.min(best, Math.hypot(wx - ex * t, wy - ey * t, wz - ez * t));
  }
  return best;
}

/** Distance inside (negative) or outside an outline in axial place and arc, mm; infinite where it cannot be seen. */
function outlineDistance([a, arc]: Place, outline: readonly Place[]): number {
  const arcs = outline.map((one) => one[1]);
  if (arc < Math.min(...arcs) - FRAY_MM || arc > Math.max(...arcs) + FRAY_MM) return Infinity;
  let best = Infinity;
  let inside = false;
  let [pa, py] = outline[outline.length - 1] ?? [0, 0, 0];
  for (const [qa, qy] of outline) {
    const [ex, ey] = [qa - pa, qy - py];
    const t = Math.max(0, Math.min(1, ((a - pa) * ex + (arc - py) * ey) / (ex * ex + ey * ey)));
    best = Math.min(best, Math.hypot(a - pa - ex * t, arc - py - ey * t));
    if (qy > arc !== py > arc && a < ((pa - qa) * (arc - qy)) / (py - qy) + qa) inside = !inside;
    pa = qa;
    py = qy;
  }
  return inside ? -best : best;
}

/** Paint over primer over steel, rust, dust, scratches and cracks of a part at a point. */
export function partSkin(part: Part, point: Vec, form: Form, seed: number): Skin {
  const [x, y, z] = point;
  const place = placeOf(part, x, y, z);
  const [a, arc, r] = place;
  const { finish } = part;
  const polish = polishedAt(finish, place) * ramp(0.25, 0.6, layers(a / 5, arc / 70, r / 5, 4, seed + 7));
  const broad = layers(x / 34, y / 34, z / 34, 4, seed + 1);
  const fine = layers(x / 5.5, y / 5.5, z / 5.5, 4, seed + 2);
  const grain = noise(x * 1.7, y * 1.7, z * 1.7, seed + 3);
  // Scratches run round the part, as the other parts turned on it, with a few across.
  const round = noise(a * 3.1 + fine * 0.6, arc / 45, r * 3.1, seed + 4);
  const acrossRun = noise(a / 30, arc * 1.6 + a * 0.25, r / 30, seed + 5);
  const scratch = ramp(0.8, 0.9, round) * 0.8 + ramp(0.9, 0.95, acrossRun) * ramp(0.55, 0.65, broad);

  const broken = part.bites.some(
    ({ at, radiusMm }) => Math.abs(Math.hypot(x - at[0], y - at[1], z - at[2]) - radiusMm) < 0.4,
  );
  const wear =
    (broken ? 1 : 0) +
    broad * 0.62 +
    fine * 0.4 +
    form.edge * 0.34 +
    polish * 0.75 +
    scratch * 0.14 +
    (grain - 0.5) * 0.07;
  const limit = 0.94 - finish.worn * 0.5;
  const painted = 1 - ramp(limit - 0.004, limit + 0.004, wear);
  const primed = 1 - ramp(limit + 0.018, limit + 0.026, wear);

  const shade = 0.82 + 0.3 * layers(x / 60, y / 60, z / 60, 3, seed + 11) + (grain - 0.5) * 0.05;
  const paint: Vec = [finish.paint[0] * shade, finish.paint[1] * shade, finish.paint[2] * shade];
  const bare = blend(MILL, STEEL, Math.max(polish, form.edge * 0.7) * (0.75 + 0.5 * (round - 0.4)));
  let colour = blend(blend(bare, PRIMER, primed * (1 - painted)), paint, painted);
  let metal = (1 - painted) * (1 - primed * 0.9) * (0.35 + 0.6 * polish);
  let rough = painted * 0.45 + (1 - painted) * (0.5 - 0.22 * polish);
  let heightMm = painted * 0.14 + primed * 0.05 - scratch * 0.05 * (1 - polish * 0.5) + (round - 0.5) * 0.03;

  const rustField =
    layers(x / 13, y / 13, z / 13, 5, seed + 21) + form.hollow * 0.26 - polish * 0.42 - painted * 0.26;
  let rust = ramp(0.74 - finish.rust * 0.42, 0.86 - finish.rust * 0.4, rustField);
  for (const patch of part.patches) {
    const d = outlineDistance(place, patch.outline) + (fine - 0.5) * 5 + (grain - 0.5) * 1.5;
    const inPatch = 1 - ramp(-1.2, 0.8, d);
    rust = Math.max(rust, inPatch * (0.86 + 0.14 * fine));
  }
  const rustTone = layers(x / 4.2, y / 4.2, z / 4.2, 4, seed + 22) * 0.85 + (grain - 0.5) * 0.35;
  colour = blend(colour, blend(RUST_DARK, RUST_LIGHT, ramp(0.24, 0.72, rustTone)), rust * 0.95);
  // Rust bleeds a little over the paint beside it.
  const bleed = ramp(0.42, 0.74, rustField + 0.22) * painted * finish.rust * 0.35;
  colour = blend(colour, [0.28, 0.14, 0.06], bleed);
  metal *= 1 - rust;
  rough = rough * (1 - rust) + 0.95 * rust;
  heightMm += rust * (layers(x / 1.6, y / 1.6, z / 1.6, 3, seed + 24) - 0.5) * 0.5;

  const dustHere =
    ramp(
      0.5,
      0.9,
      layers(x / 48, y / 48, z / 48, 5, seed + 31) * 0.7 + form.facesUp * 0.3 + form.hollow * 0.35,
    ) *
    finish.dust *
    (1 - polish * 0.7);
  colour = blend(colour, DUST, dustHere * 0.75);
  rough = Math.max(rough, dustHere * 0.9);
  metal *= 1 - dustHere * 0.8;
  const grime = form.hollow * 0.8 + ramp(0.52, 0.75, layers(x / 17, y / 17, z / 17, 4, seed + 33)) * 0.5;
  colour = blend(colour, SOOT, Math.min(0.75, grime * (0.35 + finish.dust * 0.3)));

  let crackDepth = 0;
  let halo = 0;
  for (const crack of part.cracks) {
    for (const line of crack.branches) {
      const d = lineDistance(place, line) + (grain - 0.5) * 0.12;
      crackDepth = Math.max(crackDepth, 1 - ramp(crack.widthMm * 0.35, crack.widthMm * 0.75, d));
      halo = Math.max(halo, (1 - ramp(0.4, 3.4, d + fine * 1.6)) * 0.6);
    }
  }
  colour = blend(blend(colour, RUST_DARK, halo), [0.006, 0.005, 0.005], crackDepth);
  metal *= 1 - Math.max(halo, crackDepth);
  heightMm -= crackDepth * 0.9;
  return { colour, metal, rough: Math.max(rough, crackDepth), heightMm };
}

/** Swept concrete of a yard. */
export function groundSkin([x, y, z]: Vec, seed: number): Skin {
  const broad = layers(x / 120, y / 120, z / 120, 4, seed + 51);
  const fine = layers(x / 2.1, y / 2.1, z / 2.1, 3, seed + 52);
  const stain = ramp(0.56, 0.72, layers(x / 70, y / 70, z / 70, 4, seed + 53));
  const stone = ramp(0.72, 0.9, layers(x / 3.4, y / 3.4, z / 3.4, 2, seed + 54));
  let colour: Vec = blend([0.15, 0.14, 0.125], [0.25, 0.235, 0.205], broad * 0.7 + fine * 0.5);
  colour = blend(colour, [0.07, 0.06, 0.05], stain * 0.55);
  colour = blend(colour, [0.3, 0.26, 0.2], stone * 0.5);
  return { colour, metal: 0, rough: 0.95, heightMm: fine * 0.5 };
}
