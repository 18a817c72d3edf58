import type { CardLayout, GreyPicture, Point } from '../../lib/photo/index.ts';
import { homographyFrom, mapPoint, markerCells } from '../../lib/photo/index.ts';
import type { Chance } from './truth.ts';

/** How a card is photographed in a made-up picture. */
export interface CardShot {
  readonly obliquityDegrees: number;
  /** Width of the card as a share of the picture’s width, before it leans. */
  readonly widthShare: number;
  readonly turnDegrees: number;
  /** Gaussian blur, px. */
  readonly blurPx: number;
  readonly light: 'even' | 'torch' | 'overexposed' | 'glare' | 'dim';
  readonly dirt: boolean;
  /** Share of the card’s width covered from its left edge. */
  readonly covered: number;
}

const PX_PER_MM = 8;
/** The exponent of sRGB, looked up. */
const TONE = Float32Array.from({ length: 4096 }, (_, i) => (i / 4095) ** (1 / 2.2));
const WHITE = 0.82;
const BLACK = 0.05;

/** Reflectance of the printed card: markers, grey patch and a few lines of text-like ticks. */
function printed(layout: CardLayout): { at(x: number, y: number): number } {
  const [w, h] = [Math.round(layout.widthMm * PX_PER_MM), Math.round(layout.heightMm * PX_PER_MM)];
  const values = new Float32Array(w * h).fill(WHITE);
  const fill = (x: number, y: number, width: number, height: number, value: number) => {
    for (let j = Math.round(y * PX_PER_MM); j < Math.round((y + height) * PX_PER_MM); j += 1) {
      for (let i = Math.round(x * PX_PER_MM); i < Math.round((x + width) * PX_PER_MM); i += 1)
        values[j * w + i] = value;
    }
  };
  for (const { id, leftMm, topMm, sideMm } of layout.markers) {
    fill(leftMm, topMm, sideMm, sideMm, BLACK);
    const cell = sideMm / 6;
    markerCells(id).forEach((row, r) => {
      row.forEach((white, c) => {
        if (white) fill(leftMm + (c + 1) * cell, topMm + (r + 1) * cell, cell, cell, WHITE);
      });
    });
  }
  fill(layout.grey.leftMm, layout.grey.topMm, layout.grey.widthMm, layout.grey.heightMm, 0.18);
  for (const ruler of layout.rulers.filter(({ unit }) => unit === 'mm')) {
    for (let mm = 0; mm <= ruler.length; mm += 1)
      fill(ruler.leftMm + mm - 0.1, ruler.topMm, 0.2, mm % 10 === 0 ? 3 : 1.5, BLACK);
  }
  return {
    at(x, y) {
      const [i, j] = [Math.floor(x * PX_PER_MM), Math.floor(y * PX_PER_MM)];
      return i < 0 || j < 0 || i >= w || j >= h ? Number.NaN : (values[j * w + i] ?? WHITE);
    },
  };
}

/** The ideal camera’s picture of the card’s corners: it leans about an axis turned in its plane. */
function cornersOf(layout: CardLayout, shot: CardShot, widthPx: number, heightPx: number): Point[] {
  const focal = 1.05 * widthPx;
  const far = (focal * layout.widthMm) / (shot.widthShare * widthPx);
  const lean = (shot.obliquityDegrees * Math.PI) / 180;
  const turn = (shot.turnDegrees * Math.PI) / 180;
  const [w, h] = [layout.widthMm / 2, layout.heightMm / 2];
  return [
    [-w, -h],
    [w, -h],
    [w, h],
    [-w, h],
  ].map(([x = 0, y = 0]): Point => {
    const [a, b] = [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)];
    const depth = far + b * Math.sin(lean);
    return [widthPx * 0.5 + (focal * a) / depth, heightPx * 0.52 + (focal * b * Math.cos(lean)) / depth];
  });
}

/** Gaussian blur, along rows and then along columns. */
function blurred(values: Float32Array, w: number, h: number, sigma: number): Float32Array {
  const radius = Math.ceil(3 * sigma);
  const kernel = Array.from({ length: 2 * radius + 1 }, (_, i) =>
    Math.exp(-((i - radius) ** 2) / (2 * sigma * sigma)),
  );
  const total = kernel.reduce((sum, one) => sum + one, 0);
  let from = values;
  for (const along of [1, w]) {
    const to = new Float32Array(from.length);
    const [lines, length, step] = along === 1 ? [h, w, w] : [w, h, 1];
    for (let line = 0; line < lines; line += 1) {
      for (let k = 0; k < length; k += 1) {
        let sum = 0;
        for (let d = -radius; d <= radius; d += 1) {
          const at = Math.min(length - 1, Math.max(0, k + d));
          sum += (kernel[d + radius] ?? 0) * (from[line * step + at * along] ?? 0);
        }
        to[line * step + k * along] = sum / total;
      }
    }
    from = to;
  }
  return from;
}

const noise = new Float32Array(1 << 16);

/** Normal numbers of unit spread, drawn once and taken in turn. */
function noiseFrom(chance: Chance): Float32Array {
  if (noise[0] === 0) for (let i = 0; i < noise.length; i += 1) noise[i] = chance.normal();
  return noise;
}

const metals = new Map<string, Uint8Array>();

/** Rusty metal without a card, 8 bit: waves of several lengths and noise; made once for each size. */
function metalPicture(widthPx: number, heightPx: number, grain: Float32Array): Uint8Array {
  const key = `${widthPx}x${heightPx}`;
  const known = metals.get(key);
  if (known !== undefined) return known;
  const values = new Uint8Array(widthPx * heightPx);
  for (let i = 0; i < values.length; i += 1) {
    const [x, y] = [i % widthPx, Math.floor(i / widthPx)];
    values[i] = Math.round(
      255 * (TONE[Math.round(4095 * metalAt(x, y))] ?? 0) + 2.5 * (grain[(i * 7) & 0xffff] ?? 0),
    );
  }
  metals.set(key, values);
  return values;
}

function metalAt(x: number, y: number): number {
  return (
    0.16 +
    0.03 *
      (Math.sin(0.011 * x + 0.004 * y) +
        Math.sin(0.03 * y - 0.02 * x + 1) +
        Math.sin(0.05 * x + 0.04 * y + 2))
  );
}

/**
 * A picture with one card on rusty metal, as the shot says: 8 bit, with the exponent of sRGB and noise. Light and blur
 * are worked out round the card only; the rest is metal in even light.
 */
export function cardPicture(
  layout: CardLayout,
  shot: CardShot,
  chance: Chance,
  widthPx = 4000,
  heightPx = 3000,
): { picture: GreyPicture; corners: readonly Point[] } {
  const card = printed(layout);
  const corners = cornersOf(layout, shot, widthPx, heightPx);
  const toCard = homographyFrom(corners, [
    [0, 0],
    [layout.widthMm, 0],
    [layout.widthMm, layout.heightMm],
    [0, layout.heightMm],
  ]);
  if (!toCard.ok) throw new Error(toCard.error.message);
  const map = toCard.value;
  const margin = 30;
  const left = Math.max(0, Math.floor(Math.min(...corners.map(([x]) => x))) - margin);
  const right = Math.min(widthPx - 1, Math.ceil(Math.max(...corners.map(([x]) => x))) + margin);
  const top = Math.max(0, Math.floor(Math.min(...corners.map(([, y]) => y))) - margin);
  const bottom = Math.min(heightPx - 1, Math.ceil(Math.max(...corners.map(([, y]) => y))) + margin);
  const [w, h] = [right - left + 1, bottom - top + 1];
  const dirt = shot.dirt ? dirtOf(layout, chance) : null;
  const [cx, cy] = [left + chance.uniform(0.35, 0.65) * w, top + chance.uniform(0.35, 0.65) * h];
  const size = Math.max(w, h);
  const raw = new Float32Array(w * h);
  for (let i = 0; i < raw.length; i += 1) {
    const [x, y] = [left + (i % w), top + Math.floor(i / w)];
    const metal = metalAt(x, y);
    let sum = 0;
    for (let s = 0; s < 4; s += 1) {
      const [u, v] = mapPoint(map, [x + (s % 2) / 2 - 0.25, y + Math.floor(s / 2) / 2 - 0.25]);
      const own = u / layout.widthMm < shot.covered ? Number.NaN : card.at(u, v);
      sum += Number.isNaN(own) ? metal : own * (dirt === null ? 1 : dirt(u, v));
    }
    const away = Math.hypot(x - cx, y - cy);
    raw[i] =
      (sum / 4) * litBy(shot.light, away, size) +
      (shot.light === 'glare' ? 0.5 * Math.exp(-((away / (0.3 * size)) ** 2)) : 0);
  }
  const light = blurred(raw, w, h, shot.blurPx);
  const grain = noiseFrom(chance);
  const values = new Uint8Array(metalPicture(widthPx, heightPx, grain));
  const first = Math.floor(chance.uniform(0, grain.length));
  const spread = shot.light === 'dim' ? 5 : 2.5;
  for (let i = 0; i < light.length; i += 1) {
    const clean = Math.min(1, Math.max(0, light[i] ?? 0));
    const value =
      255 * (TONE[Math.round(clean * 4095)] ?? 0) + spread * (grain[(first + i * 7) & 0xffff] ?? 0);
    values[(top + Math.floor(i / w)) * widthPx + left + (i % w)] = Math.round(
      Math.min(255, Math.max(0, value)),
    );
  }
  return { picture: { widthPx, heightPx, values }, corners };
}

/** Dark blots of grease and dust, as a factor on what is printed; a grid of cells a millimetre wide. */
function dirtOf(layout: CardLayout, chance: Chance): (x: number, y: number) => number {
  const [w, h] = [Math.ceil(layout.widthMm), Math.ceil(layout.heightMm)];
  const cells = new Float32Array(w * h).fill(1);
  for (let n = 0; n < 40; n += 1) {
    const [x, y, r, dark] = [
      chance.uniform(0, w),
      chance.uniform(0, h),
      chance.uniform(0.5, w / 45),
      chance.uniform(0.2, 0.6),
    ];
    for (let i = 0; i < cells.length; i += 1) {
      if (Math.hypot((i % w) - x, Math.floor(i / w) - y) < r) cells[i] = (cells[i] ?? 1) * (1 - dark);
    }
  }
  return (x, y) =>
    cells[Math.min(h - 1, Math.max(0, Math.floor(y))) * w + Math.min(w - 1, Math.max(0, Math.floor(x)))] ?? 1;
}

function litBy(light: CardShot['light'], away: number, sizePx: number): number {
  switch (light) {
    case 'torch':
      return 0.08 + 1.6 * Math.exp(-((away / (0.5 * sizePx)) ** 2));
    case 'overexposed':
      return 3.2;
    case 'dim':
      return 0.06;
    case 'glare':
    case 'even':
      return 1;
  }
}
