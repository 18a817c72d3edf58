import { readFileSync } from 'node:fs';
import { errorText, problem } from '../../lib/base/index.ts';
import { greyPicture, inspectPhoto } from '../../lib/imaging/server/index.ts';
import { linesOf } from '../../lib/marks/index.ts';
import {
  cardLayout,
  figuresNear,
  type GreyPicture,
  type PhotoMeasure,
  type PhotoRuler,
  type Propagated,
  photoRuler,
  SURFACE_BY_ZONE,
  sectionOfWheel,
} from '../../lib/photo/index.ts';
import type { PhotoScale } from '../../lib/record/index.ts';
import { showLength, showNumber } from '../../lib/units/index.ts';
import { EXIT_OK } from './exit.ts';
import { BadInput, oneFile, readOptions, withInputLater } from './input.ts';
import { type MarksFile, readCard, readMarks, readSurface } from './measureInput.ts';

export const measureUsage = `measure PHOTO --marks MARKS.json [--card CARD.json] [--surface SURFACE] [--json]
  Measures marks on a photo as the screen does: finds the scale card, locates it, lays each mark on its surface.
  --marks    what is marked, in px of the upright photo, and the wheel's designation and construction
  --card     what the check ruler of the printed card truly measures
  --surface  zone (the default), plane, plane:MM, cylinder:RADIUS, unknown, or a JSON file`;

interface Looked {
  readonly picture: GreyPicture;
  readonly focal35Mm: number | null;
}

async function look(path: string): Promise<Looked> {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(path);
  } catch (error) {
    const why = errorText(error);
    throw new BadInput([
      problem(
        'file-unreadable',
        'PHOTO',
        path,
        `The photo cannot be read: ${why}`,
        'Give the path of a photo.',
      ),
    ]);
  }
  const inspected = await inspectPhoto(bytes);
  if (!inspected.ok) throw new BadInput([inspected.error]);
  return { picture: await greyPicture(bytes), focal35Mm: inspected.value.facts.focalLength35Mm ?? null };
}

/** The scale of the file, or the card found in the photo. */
async function scaleFor(
  file: MarksFile,
  picture: GreyPicture,
  card: string | undefined,
  path: string,
): Promise<PhotoScale> {
  if (file.scale !== undefined) return file.scale;
  // Loaded only when it is needed: the library takes a moment.
  const { findCards, loadCv } = await import('../../lib/imaging/vision/index.ts');
  const [found] = findCards((await loadCv()).cv, picture);
  if (found === undefined) {
    throw new BadInput([
      problem(
        'card-not-found',
        'PHOTO',
        path,
        'No scale card was found in the photo, and the file of marks gives no scale',
        'Give "scale" in the file of marks: a known length or a rectangle.',
      ),
    ]);
  }
  return {
    source: 'scale card',
    layout: found.layout,
    markers: found.markers.map(({ id, corners }) => ({
      id,
      corners: corners.map(([x, y]) => [x, y]) as never,
    })),
    ruler: card === undefined ? null : readCard(card).ruler,
  };
}

const length = ({ value, u }: Propagated) => ({ mm: value, uMm: u });

const UNITS = { length: 'mm', area: 'mm²', angle: '°' } as const;

/** One mark as --json prints it: mm, mm² and degrees, standard uncertainties u, U = 2u; or why it was not measured. */
function answerFor(ruler: PhotoRuler, picture: GreyPicture, mark: MarksFile['marks'][number]) {
  const { name, slot, zone } = mark;
  const near = figuresNear(
    picture,
    linesOf(mark.shape).flatMap((line) => line.points),
  );
  if (!near.ok) return { name, slot, zone, problem: near.error };
  const measured = ruler.measure({ ...mark, near: near.value });
  if (!measured.ok) return { name, slot, zone, problem: measured.error };
  const {
    quantity,
    value,
    u,
    contributions,
    by,
    surface,
    mmPerPx,
    obliquityDegrees,
    distanceMm,
    fromReferenceMm,
    quality,
  } = measured.value;
  const ways = mark.shape.form === 'trace' ? ruler.crackWays(mark) : null;
  return {
    name,
    slot,
    zone,
    quantity,
    unit: UNITS[quantity],
    value,
    u,
    U: 2 * u,
    by,
    budget: contributions,
    ...(ways?.ok === true
      ? { longest: length(ways.value.longest), tipToTip: length(ways.value.tipToTip) }
      : {}),
    ...(quantity === 'area' ? { shareOfZone: ruler.shareOfZone(mark, value) } : {}),
    surface,
    mmPerPx,
    obliquityDegrees,
    distanceMm,
    fromReferenceMm,
    near: near.value,
    quality,
  };
}

function cardAnswer(scale: PhotoScale) {
  if (scale.source !== 'scale card') return null;
  const found = scale.markers.map(({ id }) => id);
  const missing = cardLayout(scale.layout)
    .markers.map(({ id }) => id)
    .filter((id) => !found.includes(id));
  return { layout: scale.layout, found, missing, ruler: scale.ruler };
}

/** The `measure` command: 0 with an answer, 2 with every problem of the input on standard error. */
export function measure(args: string[]): Promise<number> {
  return withInputLater(async () => {
    const { values, positionals } = readOptions(args, {
      marks: { type: 'string' },
      card: { type: 'string' },
      surface: { type: 'string' },
      json: { type: 'boolean' },
    });
    const path = oneFile('measure', positionals);
    if (values.marks === undefined) {
      throw new BadInput([
        problem('arguments', '--marks', undefined, 'measure needs a file of marks', 'Add --marks MARKS.json'),
      ]);
    }
    const file = readMarks(values.marks);
    const surface =
      values.surface === undefined ? (file.surface ?? SURFACE_BY_ZONE) : readSurface(values.surface);
    const { picture, focal35Mm } = await look(path);
    const { widthPx, heightPx } = picture;
    const scale = await scaleFor(file, picture, values.card, path);
    const camera = { widthPx, heightPx, focal35Mm, profile: file.camera ?? null };
    const section = file.wheel === undefined ? null : sectionOfWheel(file.wheel);
    const ruler = photoRuler({ scale, camera, surface, section });
    if (!ruler.ok) throw new BadInput([ruler.error]);
    const { reference } = ruler.value;
    const { lens } = reference.viewOf(reference.estimate.values);
    const answer = {
      photo: path,
      widthPx,
      heightPx,
      scale: scale.source,
      card: cardAnswer(scale),
      residualPx: reference.residualPx,
      camera: { focalPx: lens.focalPx, k1: lens.k1, k2: lens.k2 },
      marks: file.marks.map((mark) => answerFor(ruler.value, picture, mark)),
    };
    if (values.json) console.log(JSON.stringify(answer, null, 2));
    else for (const mark of answer.marks) console.log(sentence(mark));
    return EXIT_OK;
  });
}

function sizeText(quantity: PhotoMeasure['quantity'], value: number, U: number): string {
  switch (quantity) {
    case 'length':
      return `${showLength(value)} ± ${showLength(U)}`;
    case 'area':
      return `${showNumber(value / 100, 1)} ± ${showNumber(U / 100, 1)} cm²`;
    case 'angle':
      return `${showNumber(value, 1)}° ± ${showNumber(U, 1)}°`;
  }
}

function sentence(mark: ReturnType<typeof answerFor>): string {
  if (mark.problem !== undefined)
    return `${mark.name}: not measured. ${mark.problem.message}. ${mark.problem.wayOut}`;
  return `${mark.name}: ${sizeText(mark.quantity, mark.value, mark.U)} (k = 2), on ${mark.surface}. Mostly: ${mark.budget[0]?.name ?? 'nothing'}.`;
}
