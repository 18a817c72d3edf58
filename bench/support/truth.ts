import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { must, uniformFrom } from '../../lib/base/index.ts';
import type { Point } from '../../lib/photo/index.ts';
import {
  type ConstructionId,
  constructionOf,
  parseDesignation,
  type Section,
  sectionOf,
  type ZoneId,
} from '../../lib/wheel/index.ts';

type Triple = readonly [number, number, number];

/** What is used of the truth beside a rendered picture; see sample-images/INDEX.md. */
export interface Truth {
  /** Folder that the picture lies in. */
  readonly folder: string;
  readonly name: string;
  readonly file: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focal35Mm: number;
  readonly wheel: string;
  readonly designation: string;
  readonly construction: ConstructionId;
  readonly slot: string;
  readonly zone: ZoneId;
  readonly clock: number;
  readonly gapMm: number | null;
  readonly camera: {
    readonly focalPx: number;
    readonly centrePx: Point;
    readonly distortion: { readonly k1: number; readonly k2: number };
    readonly rotation: readonly [Triple, Triple, Triple];
    readonly translationMm: Triple;
    readonly mmPerPx: number;
  };
  readonly scale:
    | {
        readonly source: 'scale card';
        readonly layout: 'pocket card' | 'rim card';
        readonly cardCorners: readonly [Point, Point, Point, Point];
        readonly widthMm: number;
        readonly heightMm: number;
        readonly markers: readonly {
          readonly id: number;
          readonly corners: readonly Point[];
          readonly visible: boolean;
        }[];
      }
    | { readonly source: 'steel tape'; readonly ends: readonly [Point, Point]; readonly lengthMm: number }
    | null;
  readonly defects: readonly {
    readonly kind: string;
    readonly component: string;
    readonly zone: ZoneId;
    readonly branches?: readonly { readonly px: readonly Point[] }[];
    readonly outlines?: readonly (readonly Point[])[];
    readonly lengthMm?: number;
    readonly areaMm2?: number;
    readonly visibleShare: number;
    readonly outOfPlaneMm: { readonly least: number; readonly mean: number; readonly most: number } | null;
  }[];
}

const samples = join(import.meta.dirname, '..', '..', 'sample-images');
export const pictures = join(samples, 'pictures');
/** Pairs of pictures of one place, months apart: NAME-1 and NAME-2; see sample-images/render/pairs.py. */
export const pairs = join(samples, 'pairs');

/** The truths beside the pictures of a folder, in order of their names. */
export function truths(folder = pictures): Truth[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith('.json'))
    .sort()
    .map((file) => ({
      folder,
      name: file.slice(0, -5),
      ...JSON.parse(readFileSync(join(folder, file), 'utf8')),
    }));
}

export function sectionFor(truth: Truth): Section {
  const size = parseDesignation(truth.designation);
  if (!size.ok) throw new Error(size.error.message);
  return sectionOf(constructionOf(truth.construction), size.value);
}

/** A point of the rim’s frame in camera axes. */
export function inCamera({ camera: { rotation, translationMm } }: Truth, p: Triple): Triple {
  return [0, 1, 2].map(
    (i) =>
      must(rotation[i], 'row')[0] * p[0] +
      must(rotation[i], 'row')[1] * p[1] +
      must(rotation[i], 'row')[2] * p[2] +
      must(translationMm[i], 'shift'),
  ) as unknown as Triple;
}

/** Where a point of the rim’s frame is in the picture, by the textbook’s camera (Zhang 2000); null behind the camera. */
export function pictured(truth: Truth, p: Triple): Point | null {
  const [x, y, z] = inCamera(truth, p);
  if (z <= 0) return null;
  const { focalPx, centrePx, distortion } = truth.camera;
  const [u, v] = [x / z, y / z];
  const r2 = u * u + v * v;
  const radial = 1 + distortion.k1 * r2 + distortion.k2 * r2 * r2;
  return [centrePx[0] + focalPx * u * radial, centrePx[1] + focalPx * v * radial];
}

/** A point of a profile turned to an angle from 12 o’clock, clockwise as seen from the gutter side, in the rim’s frame. */
export function onRim(axialMm: number, radiusMm: number, angle: number): Triple {
  return [axialMm, radiusMm * Math.sin(angle), radiusMm * Math.cos(angle)];
}

/** Seeded numbers: uniform and normal (Box and Muller). */
export class Chance {
  readonly #next: () => number;
  constructor(seed: number) {
    this.#next = uniformFrom(seed);
  }
  uniform(from = 0, to = 1): number {
    return from + this.#next() * (to - from);
  }
  normal(u = 1): number {
    return u * Math.sqrt(-2 * Math.log(1 - this.uniform())) * Math.cos(2 * Math.PI * this.uniform());
  }
}

/** Quantile of a list, linear between its members. */
export function quantile(list: readonly number[], share: number): number {
  const sorted = [...list].sort((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const [low, high] = [sorted[Math.floor(at)] ?? Number.NaN, sorted[Math.ceil(at)] ?? Number.NaN];
  return low + (high - low) * (at - Math.floor(at));
}
