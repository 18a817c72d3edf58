/** Cross-sections of rim parts: outlines with rounded corners, and their distance field. Lengths in mm. */

/** A corner of an outline: axial place, height over the part's radius, radius of the rounding there. */
export type Corner = readonly [a: number, r: number, rounding?: number];

type Point = readonly [number, number];

const ARC_STEPS = 7;

function rounded(before: Point, corner: Corner, after: Point): Point[] {
  const [a, r, radius = 0] = corner;
  const [ux, uy] = [before[0] - a, before[1] - r];
  const [vx, vy] = [after[0] - a, after[1] - r];
  const [lu, lv] = [Math.hypot(ux, uy), Math.hypot(vx, vy)];
  const angle = Math.acos(Math.max(-1, Math.min(1, (ux * vx + uy * vy) / (lu * lv))));
  if (radius === 0 || Math.PI - angle < 0.02) return [[a, r]];
  const cut = Math.min(radius / Math.tan(angle / 2), lu * 0.49, lv * 0.49);
  const from: Point = [a + (ux / lu) * cut, r + (uy / lu) * cut];
  const to: Point = [a + (vx / lv) * cut, r + (vy / lv) * cut];
  // A quadratic curve through the corner's tangents stands for the arc.
  return Array.from({ length: ARC_STEPS + 1 }, (_, i): Point => {
    const t = i / ARC_STEPS;
    const [k0, k1, k2] = [(1 - t) ** 2, 2 * t * (1 - t), t * t];
    return [from[0] * k0 + a * k1 + to[0] * k2, from[1] * k0 + r * k1 + to[1] * k2];
  });
}

/** The closed outline with its corners rounded. */
export function outlineOf(corners: readonly Corner[]): Point[] {
  const at = (i: number): Corner => corners[(i + corners.length) % corners.length] ?? [0, 0];
  return corners.flatMap((corner, i) =>
    rounded([at(i - 1)[0], at(i - 1)[1]], corner, [at(i + 1)[0], at(i + 1)[1]]),
  );
}

function signedDistance(x: number, y: number, outline: readonly Point[]): number {
  let best = Infinity;
  let inside = false;
  let [px, py] = outline[outline.length - 1] ?? [0, 0];
  for (const [qx, qy] of outline) {
    const [ex, ey] = [qx - px, qy - py];
    const length2 = ex * ex + ey * ey;
    const t = length2 === 0 ? 0 : Math.max(0, Math.min(1, ((x - px) * ex + (y - py) * ey) / length2));
    const [dx, dy] = [x - px - ex * t, y - py - ey * t];
    best = Math.min(best, dx * dx + dy * dy);
    if (qy > y !== py > y && x < ((px - qx) * (y - qy)) / (py - qy) + qx) inside = !inside;
    px = qx;
    py = qy;
  }
  return inside ? -Math.sqrt(best) : Math.sqrt(best);
}

const CELL_MM = 0.3;
const BORDER_MM = 12;

/** Distance to a cross-section, mm: negative inside; outside the tabulated box a safe lower bound. */
export type Field = (a: number, r: number) => number;

/** Tabulates the distance field of an outline. */
export function fieldOf(outline: readonly Point[]): Field {
  const as = outline.map(([a]) => a);
  const rs = outline.map(([, r]) => r);
  const a0 = Math.min(...as) - BORDER_MM;
  const r0 = Math.min(...rs) - BORDER_MM;
  const columns = Math.ceil((Math.max(...as) + BORDER_MM - a0) / CELL_MM) + 1;
  const rows = Math.ceil((Math.max(...rs) + BORDER_MM - r0) / CELL_MM) + 1;
  const table = new Float32Array(columns * rows);
  for (let j = 0; j < rows; j += 1) {
    for (let i = 0; i < columns; i += 1) {
      table[j * columns + i] = signedDistance(a0 + i * CELL_MM, r0 + j * CELL_MM, outline);
    }
  }
  const a1 = a0 + (columns - 1.001) * CELL_MM;
  const r1 = r0 + (rows - 1.001) * CELL_MM;
  return (a, r) => {
    const beyondA = a < a0 ? a0 - a : a > a1 ? a - a1 : 0;
    const beyondR = r < r0 ? r0 - r : r > r1 ? r - r1 : 0;
    if (beyondA > 0 || beyondR > 0) return Math.hypot(beyondA, beyondR) + BORDER_MM * 0.9;
    const x = (a - a0) / CELL_MM;
    const y = (r - r0) / CELL_MM;
    const i = Math.floor(x);
    const j = Math.floor(y);
    const [fx, fy] = [x - i, y - j];
    const k = j * columns + i;
    const low = (table[k] ?? 0) * (1 - fx) + (table[k + 1] ?? 0) * fx;
    const high = (table[k + columns] ?? 0) * (1 - fx) + (table[k + columns + 1] ?? 0) * fx;
    return low * (1 - fy) + high * fy;
  };
}
