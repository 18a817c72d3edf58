import { createHash } from 'node:crypto';
import sharp from 'sharp';
import { must } from '../../lib/base/index.ts';
import type { PointPx } from '../../lib/marks/index.ts';
import type { ZoneId } from '../../lib/wheel/index.ts';
import { constructionOfWheel, isIdentified, type Paint, wheelOf } from './fleet.ts';
import { type Picture, pictureBytes, pictureNamed } from './pictures.ts';
import { chanceFrom, seedOf } from './random.ts';
import { inspectionKey, type PlannedInspection, plannedInspections } from './rounds.ts';
import { shots } from './shots.ts';

/**
 * A small photo of a sound place: a piece cut out of one of the pictures where nothing is marked. The pictures show
 * what was found; these stand for the photos that a complete inspection takes of everything else.
 */
export interface Detail {
  readonly file: string;
  readonly sha256: string;
  readonly bytes: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly content: Buffer;
}

/** A picture with sound metal of a zone in it, and where in it, as shares of its width and height. */
interface Source {
  readonly picture: string;
  readonly at: readonly [x: number, y: number];
}

const everyPaint = (picture: string, at: Source['at']) => ({
  grey: { picture, at },
  yellow: { picture, at },
});

/** By the paint of the rims and clear of a series stamped in: nobody sees a yellow ring in the book of a grey wheel. */
const SOURCES: Readonly<Partial<Record<ZoneId, Readonly<Record<Paint, Source>>>>> = {
  'gutter groove': {
    grey: { picture: 'groove-clean', at: [0.5, 0.5] },
    yellow: { picture: 'seal-groove-pitted', at: [0.5, 0.2] },
  },
  'gutter lip': {
    grey: { picture: 'lip-crack', at: [0.8, 0.62] },
    yellow: { picture: 'lip-clean', at: [0.45, 0.55] },
  },
  'back bead seat': everyPaint('back-seat-rubber', [0.5, 0.48]),
  'back flange radius': everyPaint('back-radius-hair', [0.72, 0.6]),
  'flange contact face': everyPaint('contact-clean', [0.45, 0.52]),
  'bead seat': {
    grey: { picture: 'flange-seat-rust', at: [0.14, 0.5] },
    yellow: { picture: 'band-seat-clean', at: [0.5, 0.5] },
  },
  'ring ends': {
    grey: { picture: 'gap-14', at: [0.5, 0.46] },
    yellow: { picture: 'gap-6', at: [0.35, 0.52] },
  },
  'ring body': {
    grey: { picture: 'ring-shadow', at: [0.6, 0.4] },
    yellow: { picture: 'ring-chipped', at: [0.1, 0.42] },
  },
};

const WIDTH_PX = 800;
const HEIGHT_PX = 600;
const TRIES_MAX = 400;
/** Sources are brought to this size first: details need no more, and there are many of them. */
const SOURCE_PX_MAX = 2000;

/** A place of an inspection that asks for a photo. */
export interface PhotoPlace {
  readonly inspection: PlannedInspection;
  readonly slot: string;
  readonly zone: ZoneId;
}

export function placeKey({ inspection, slot, zone }: PhotoPlace): string {
  return `${inspectionKey(inspection)}, ${slot}, ${zone}`;
}

/** The places that were photographed and of which there is no picture among the finds. */
export function placesToCut(pictures: ReadonlyMap<string, Picture>): readonly PhotoPlace[] {
  const shown = new Set(
    [...pictures].map(([name, { wheel, slot, zone }]) => {
      const round = must(shots[name], `the round of picture ${name}`).round;
      return `${inspectionKey({ wheel, round })}, ${slot}, ${zone}`;
    }),
  );
  return plannedInspections
    .filter((inspection) => inspection.photographed)
    .flatMap((inspection) =>
      constructionOfWheel(inspection.wheel).slots.flatMap(({ slot, inspected, zones }) =>
        inspected && isIdentified(inspection.wheel, slot, inspection.days)
          ? zones.filter((one) => one.photo).map(({ zone }) => ({ inspection, slot, zone }))
          : [],
      ),
    )
    .filter((place) => !shown.has(placeKey(place)));
}

interface Window {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Pixels of a source; `share`: how much smaller than the picture it is. */
interface Upright {
  readonly data: Buffer;
  readonly width: number;
  readonly height: number;
  readonly share: number;
}

/** Boxes round everything that is marked in a picture: defects, and what looks like one. */
function markedBoxes({ defects, lookAlikes }: Picture): Window[] {
  const shapes: (readonly PointPx[])[] = [
    ...defects.flatMap(({ branches, outlines }) => [...branches.map(({ px }) => px), ...outlines]),
    ...lookAlikes.flatMap(({ px }) => (px === undefined ? [] : [px])),
  ];
  return shapes.map((points) => {
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
    const [left, top] = [Math.min(...xs), Math.min(...ys)];
    return { left, top, width: Math.max(...xs) - left, height: Math.max(...ys) - top };
  });
}

function overlap(a: Window, b: Window): boolean {
  return (
    a.left < b.left + b.width &&
    b.left < a.left + a.width &&
    a.top < b.top + b.height &&
    b.top < a.top + a.height
  );
}

/** A window round the sound place that chance shifts and sizes, clear of everything marked. */
function windowOn(picture: Picture, [x, y]: Source['at'], seed: string): Window {
  const chance = chanceFrom(seedOf(seed));
  const boxes = markedBoxes(picture);
  const { widthPx, heightPx } = picture;
  const most = Math.min(widthPx, (heightPx * WIDTH_PX) / HEIGHT_PX);
  const within = (at: number, size: number, whole: number) =>
    Math.round(Math.min(Math.max(at * whole - size / 2, 0), whole - size));
  for (let tried = 0; tried < TRIES_MAX; tried += 1) {
    // The longer it takes, the smaller the window and the further off.
    const width = Math.round((0.62 - 0.2 * chance.next()) * most * (1 - (0.4 * tried) / TRIES_MAX));
    const height = Math.round((width * HEIGHT_PX) / WIDTH_PX);
    const shift = () => (0.12 + (0.2 * tried) / TRIES_MAX) * (chance.next() - 0.5);
    const left = within(x + shift(), width, widthPx);
    const window = { left, top: within(y + shift(), height, heightPx), width, height };
    if (!boxes.some((box) => overlap(window, box))) return window;
  }
  throw new Error(`Broken invariant: ${picture.file} has no clear place for a detail`);
}

/** A picture upright and no larger than details need, as raw pixels. */
async function uprightOf(picture: Picture): Promise<Upright> {
  const { data, info } = await sharp(pictureBytes(picture))
    .autoOrient()
    .resize({ width: SOURCE_PX_MAX, height: SOURCE_PX_MAX, fit: 'inside', withoutEnlargement: true })
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height, share: info.width / picture.widthPx };
}

async function cut(place: PhotoPlace, number: number, window: Window, source: Upright): Promise<Detail> {
  const key = placeKey(place);
  const { data, width, height, share } = source;
  const content = await sharp(data, { raw: { width, height, channels: 3 } })
    .extract({
      left: Math.floor(window.left * share),
      top: Math.floor(window.top * share),
      width: Math.floor(window.width * share),
      height: Math.floor(window.height * share),
    })
    .resize(WIDTH_PX, HEIGHT_PX)
    .linear(0.9 + 0.2 * chanceFrom(seedOf(`${key} light`)).next())
    .jpeg({ quality: 80 })
    .toBuffer();
  return {
    file: `detail-${place.zone.replaceAll(' ', '-')}-${String(number).padStart(3, '0')}.jpg`,
    sha256: createHash('sha256').update(content).digest('hex'),
    bytes: content.length,
    widthPx: WIDTH_PX,
    heightPx: HEIGHT_PX,
    content,
  };
}

/** Cuts the photos of the sound places; the same pictures give the same bytes. By `placeKey`. */
export async function cutDetails(
  pictures: ReadonlyMap<string, Picture>,
): Promise<ReadonlyMap<string, Detail>> {
  const upright = new Map<string, Promise<Upright>>();
  const cuts = placesToCut(pictures).map(async (place, index) => {
    const { paint } = wheelOf(place.inspection.wheel).machine;
    const { picture: name, at } = must(SOURCES[place.zone], `a picture of sound ${place.zone}`)[paint];
    const picture = pictureNamed(pictures, name);
    const window = windowOn(picture, at, placeKey(place));
    const source = upright.get(picture.file) ?? uprightOf(picture);
    upright.set(picture.file, source);
    return [placeKey(place), await cut(place, index + 1, window, await source)] as const;
  });
  return new Map(await Promise.all(cuts));
}
