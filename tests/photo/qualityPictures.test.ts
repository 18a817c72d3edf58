import sharp from 'sharp';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  type GreyPicture,
  judgeQuality,
  type Point,
  pictureFigures,
  type QualityLevel,
  windowAround,
} from '../../lib/photo/index.ts';
import { sampleGrey, sampleTruths } from '../support/samples.ts';

/** The part of a picture near its mark, or its middle where nothing is marked. */
interface Neighbourhood {
  readonly file: string;
  readonly picture: GreyPicture;
}

/** Room round a mark that is looked at, px. */
const MARGIN_PX = 40;

function cut(picture: GreyPicture, points: readonly Point[]): GreyPicture {
  const { left, top, right, bottom } = windowAround(picture, points, MARGIN_PX);
  const widthPx = right - left + 1;
  const values = new Uint8Array(widthPx * (bottom - top + 1));
  for (let y = top; y <= bottom; y += 1) {
    const start = y * picture.widthPx + left;
    values.set(picture.values.subarray(start, start + widthPx), (y - top) * widthPx);
  }
  return { widthPx, heightPx: bottom - top + 1, values };
}

type Spoiling = (picture: GreyPicture) => Promise<GreyPicture>;

const asSharp = ({ widthPx, heightPx, values }: GreyPicture) =>
  sharp(values, { raw: { width: widthPx, height: heightPx, channels: 1 } });

async function greyFrom(image: ReturnType<typeof asSharp>): Promise<GreyPicture> {
  const { data, info } = await image.extractChannel(0).raw().toBuffer({ resolveWithObject: true });
  return { widthPx: info.width, heightPx: info.height, values: data };
}

/** A lamp mirrored in the middle: an ellipse over a third of the neighbourhood’s sides. */
const glared: Spoiling = (picture) => {
  const { widthPx: w, heightPx: h } = picture;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${w}" height="${h}"><ellipse cx="${w / 2}" cy="${h / 2}" rx="${w / 3}" ry="${h / 3}" fill="white"/></svg>`;
  return greyFrom(asSharp(picture).composite([{ input: Buffer.from(svg) }]));
};

const SPOILINGS: Record<string, Spoiling> = {
  sound: (picture) => greyFrom(asSharp(picture)),
  'blurred by 2 px': (picture) => greyFrom(asSharp(picture).blur(2)),
  'blurred by 4 px': (picture) => greyFrom(asSharp(picture).blur(4)),
  'a third of the brightness': (picture) => greyFrom(asSharp(picture).linear(0.33, 0)),
  'a tenth of the brightness': (picture) => greyFrom(asSharp(picture).linear(0.1, 0)),
  'glare on the mark': glared,
};

const levels = new Map<string, { file: string; level: QualityLevel }[]>();
const countOf = (name: string, ...wanted: QualityLevel[]) =>
  levels.get(name)?.filter(({ level }) => wanted.includes(level)).length ?? 0;

beforeAll(async () => {
  const near: Neighbourhood[] = [];
  for (const truth of sampleTruths()) {
    const picture = await sampleGrey(truth.file);
    const marked = truth.defects.flatMap(({ branches = [], outlines = [] }) => [
      ...branches.flatMap(({ px }) => px),
      ...outlines.slice(0, 1).flat(),
    ]);
    const [x, y] = [truth.widthPx / 2, truth.heightPx / 2];
    const middle: Point[] = [
      [x - 200, y - 150],
      [x + 200, y + 150],
    ];
    near.push({ file: truth.file, picture: cut(picture, marked.length > 0 ? marked : middle) });
  }
  for (const [name, spoil] of Object.entries(SPOILINGS)) {
    const found: { file: string; level: QualityLevel }[] = [];
    for (const { file, picture } of near) {
      const figures = pictureFigures(await spoil(picture));
      if (!figures.ok) throw new Error(figures.error.message);
      const unknown = { mmPerPx: null, obliquityDegrees: null, referenceShare: null, markerPx: null };
      const judged = judgeQuality({ ...unknown, near: figures.value });
      if (!judged.ok) throw new Error(judged.error.message);
      found.push({ file, level: judged.value[0]?.level ?? 'good' });
    }
    levels.set(name, found);
  }
  for (const name of Object.keys(SPOILINGS)) {
    const shares = (['good', 'warn', 'refuse'] as const).map((level) => `${level} ${countOf(name, level)}`);
    console.info(`${name}: ${shares.join(', ')} of ${near.length}`);
  }
}, 120_000);

describe('quality limits on the rendered pictures', () => {
  test('no sound picture is refused, and nine of ten are good', () => {
    expect(levels.get('sound')?.filter(({ level }) => level === 'refuse')).toEqual([]);
    expect(countOf('sound', 'good')).toBeGreaterThanOrEqual(0.9 * countOf('sound', 'good', 'warn', 'refuse'));
  });

  test.each(Object.keys(SPOILINGS).slice(1))('%s: every picture is warned of or refused', (name) => {
    expect(levels.get(name)?.filter(({ level }) => level === 'good')).toEqual([]);
  });

  test.each([
    ['blurred by 4 px', 0.9],
    ['a tenth of the brightness', 0.9],
    ['glare on the mark', 1],
  ] as const)('%s: at least %d of the pictures are refused', (name, share) => {
    expect(countOf(name, 'refuse')).toBeGreaterThanOrEqual(share * (levels.get(name)?.length ?? 1));
  });
});
