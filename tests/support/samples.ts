import { readdirSync, readFileSync } from 'node:fs';
import sharp, { type Sharp } from 'sharp';
import type { GreyPicture, Point } from '../../lib/photo/index.ts';

const folder = new URL('../../sample-images/pictures/', import.meta.url);

/** The truth beside a rendered picture, as far as it is read here; sample-images/INDEX.md describes it. */
export interface SampleTruth {
  readonly file: string;
  readonly light: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly mask: string | null;
  readonly camera: { readonly mmPerPx: number; readonly distanceMm: number };
  readonly scale: {
    readonly source: string;
    readonly markers?: readonly { readonly px: readonly Point[] }[];
  } | null;
  readonly defects: readonly {
    readonly kind: string;
    readonly widthMm?: number;
    readonly lengthMm?: number;
    readonly branches?: readonly { readonly px: readonly Point[]; readonly mm: number }[];
    readonly outlines?: readonly (readonly Point[])[];
  }[];
}

/** Truth of every rendered picture, by name. */
export function sampleTruths(): SampleTruth[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .sort()
    .map((name) => JSON.parse(readFileSync(new URL(name, folder), 'utf8')));
}

/** Address of a picture or mask on disk. */
const samplePath = (name: string) => new URL(name, folder);

/** A JPEG or PNG as an upright grey picture. */
async function greyOf(image: Sharp): Promise<GreyPicture> {
  const { data, info } = await image
    .autoOrient()
    .toColourspace('b-w')
    .extractChannel(0)
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { widthPx: info.width, heightPx: info.height, values: data };
}

/** A rendered picture, upright and grey. */
export function sampleGrey(name: string): Promise<GreyPicture> {
  return greyOf(sharp(readFileSync(samplePath(name))));
}
