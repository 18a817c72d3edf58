/**
 * Writes what follows from the pictures and their truth: sample-images/INDEX.md and the contact sheet.
 * `node tools/run.mjs sample-images/render/index.ts`
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { z } from 'zod';

const folder = join(import.meta.dirname, '..');

const Truth = z.object({
  file: z.string(),
  bytes: z.number(),
  widthPx: z.number(),
  heightPx: z.number(),
  shows: z.string(),
  wheel: z.string(),
  slot: z.string(),
  zone: z.string(),
  clock: z.number(),
  daysAgo: z.number().nullable(),
  light: z.string(),
  scale: z.object({ source: z.string(), layout: z.string().optional() }).nullable(),
  defects: z.array(
    z.object({
      kind: z.string(),
      lengthMm: z.number().optional(),
      areaMm2: z.number().optional(),
      depthMm: z.number(),
    }),
  ),
  lookAlikes: z.array(z.object({ kind: z.string() })),
  gapMm: z.number().nullable(),
});
type Truth = z.infer<typeof Truth>;

/** What a picture truly holds, in short. */
function inShort({ defects, lookAlikes, gapMm }: Truth): string {
  const parts = defects.map(({ kind, lengthMm, areaMm2, depthMm }) => {
    if (lengthMm !== undefined) return `${kind} ${lengthMm.toFixed(1)} mm`;
    if (kind === 'wear') return `wear ${depthMm} mm deep`;
    return areaMm2 === undefined ? kind : `${kind} ${Math.round(areaMm2)} mm²`;
  });
  if (gapMm !== null) parts.push(`gap ${gapMm} mm`);
  if (lookAlikes.length > 0)
    parts.push(`only ${[...new Set(lookAlikes.map(({ kind }) => kind))].join(', ')}`);
  return parts.length === 0 ? '–' : parts.join('; ');
}

function row(truth: Truth): string {
  const { file, wheel, slot, zone, clock, widthPx, heightPx, light, scale, shows } = truth;
  const cells = [
    `[\`${file}\`](pictures/${file})`,
    `${wheel}: ${slot}, ${zone}, ${clock} o’clock`,
    shows,
    inShort(truth),
    scale === null ? '–' : (scale.layout ?? scale.source),
    light,
    `${widthPx} × ${heightPx}`,
  ];
  return `| ${cells.join(' | ')} |`;
}

const HEAD = [
  '| file | where | shows | truth | scale | light | px |',
  '| --- | --- | --- | --- | --- | --- | --- |',
].join('\n');

const PLACES = readdirSync(join(folder, 'pairs')).filter((file) => file.endsWith('-1.json')).length;

/** The index as text, from the truth of all pictures. */
export function indexText(all: readonly Truth[]): string {
  const megabytes = all.reduce((sum, { bytes }) => sum + bytes, 0) / 1e6;
  const series = all.filter(({ daysAgo }) => daysAgo !== null);
  const single = all.filter(({ daysAgo }) => daysAgo === null);
  const large = all.filter(({ widthPx, heightPx }) => widthPx * heightPx > 11e6).length;
  return `# Sample images

**Rendered, not photographed.** ${all.length} pictures (${megabytes.toFixed(0)} MB, ${large} of them of 12 megapixels) of the rims of an
invented maker: every zone of every kind of component, sound, worn, rusted and cracked, and things that only look like
a defect. They serve as demonstration, as test of the measuring and as training material. The shapes belong to no maker
and no number in them is a limit. A method that works on them has still to be shown to work on real rims.

Licence of the pictures, their truth and masks: **CC0 1.0**, use them for anything. The scanned textures that they were
made with are CC0 as well, see [render/textures/LICENCE.md](render/textures/LICENCE.md).

![All pictures](contact-sheet.jpg)

## Truth

Beside \`pictures/NAME.jpg\` lies \`NAME.json\`, and \`NAME-mask.png\` where something is wrong. The truth comes from the
geometry that was rendered, never from the picture. Millimetres, degrees and clock positions; pixels of the **upright**
picture, pixel centres at whole numbers, origin at the centre of the top left pixel (OpenCV’s convention).

- \`camera\`: \`focalPx\`, \`centrePx\`, radial \`distortion\` k1, k2 (Brown, as OpenCV writes it), and the pose: a point of the
  rim frame in camera axes (x right, y down, z forward) is \`rotation\` · point + \`translationMm\`. Rim frame: x along the
  axle towards the gutter side, z to the valve (12 o’clock), y to the right as seen from the gutter side (3 o’clock).
- \`scale\`: a scale card with the corners of its markers and of itself (layouts: \`lib/photo/card.ts\`, the same numbers
  that the printable card uses), a steel tape with its centimetre marks, or null.
- \`defects\`: kind, component, zone, clock; a crack as \`branches\` with the line in px, the same points in the rim frame
  (\`rimMm\`) and its length along the trace with chords of 2.5 mm on the surface; an area as \`outlines\` (largest first)
  with its whole area on the surface; width or depth; \`visibleShare\`, what of it the camera sees; \`outOfPlaneMm\`, its
  distance from the plane of the scale card, negative behind it.
- \`lookAlikes\`: what is no defect but could be taken for one. \`gapMm\`: gap of the lock ring. \`wearMm\`: depth of wear.
- The mask: 0 nothing, 1 crack, 2 corrosion, 3 pitting, 4 wear, 5 broken out, 6 galling, 7 nick.

The pictures carry EXIF: the focal length in terms of 35 mm film and the orientation; no date and no place.

## The same zones, older each time

Four zones of two wheels at four dates each, from other camera positions: the same surface, aged.

${HEAD}
${series.map(row).join('\n')}

\`pictures/spots/NAME.json\` says of each of them where spots of the metal are: \`[mm round the rim, mm along the section, x px,
y px]\`, 10 mm apart; pictures of one place share them.

## Pairs

\`pairs\` holds ${PLACES} places, NAME-1 and NAME-2: the same metal months apart, aged, seen from two places drawn by a seed, with the
truth as above and \`spots\`. Laying photos over each other is measured with them (\`bench/alignment.ts\`): those called \`try\` were
looked at while it was made, those called \`held\` only after a first figure was taken, those called \`fresh\` not at all.

## Single pictures

${HEAD}
${single.map(row).join('\n')}

## What still looks false

- The sections are schematic: real gutters, flanges and bands have more steps and radii.
- Rust has little depth, and the same few scans of steel and rust give it its grain.
- A crack is a line with ragged sides; steel that opened under load also shows fine parallel lines and polished flanks.
- The tyre bay is a floor, a wall and timber blocks: no hands, tools, hoses, other parts or mud.
- Lighting is even; real torches and wet steel glare harder.
`;
}

/** The truth of every picture, the series first in the order of time, then by name. */
export function readTruths(): Truth[] {
  return readdirSync(join(folder, 'pictures'))
    .filter((file) => file.endsWith('.json'))
    .sort()
    .map((file) => Truth.parse(JSON.parse(readFileSync(join(folder, 'pictures', file), 'utf8'))));
}

const THUMB = { width: 240, height: 180 };
const COLUMNS = 8;

/** All pictures on one sheet, in the order of the index. */
async function contactSheet(all: readonly Truth[]): Promise<Buffer> {
  const rows = Math.ceil(all.length / COLUMNS);
  const composed = await Promise.all(
    all.map(async ({ file }, index) => ({
      input: await sharp(join(folder, 'pictures', file))
        .autoOrient()
        .resize(THUMB.width, THUMB.height, { fit: 'cover' })
        .toBuffer(),
      left: (index % COLUMNS) * (THUMB.width + 4),
      top: Math.floor(index / COLUMNS) * (THUMB.height + 4),
    })),
  );
  return sharp({
    create: {
      width: COLUMNS * (THUMB.width + 4) - 4,
      height: rows * (THUMB.height + 4) - 4,
      channels: 3,
      background: '#ffffff',
    },
  })
    .composite(composed)
    .jpeg({ quality: 82 })
    .toBuffer();
}

if (import.meta.main) {
  const all = readTruths();
  writeFileSync(join(folder, 'INDEX.md'), indexText(all));
  writeFileSync(join(folder, 'contact-sheet.jpg'), await contactSheet(all));
}
