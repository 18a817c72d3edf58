import { errorText } from '../../../lib/base/index.ts';
import type { Mark } from '../../../lib/marks/index.ts';
import { sceneOfPhoto, sectionOfWheel } from '../../../lib/photo/index.ts';
import {
  brokenLinks,
  type InspectionState,
  linkOf,
  type Names,
  NO_SLOT,
  slotAt,
} from '../../../lib/record/index.ts';
import { inspectionReport, type ReportPhoto } from '../../../lib/report/index.ts';
import type { Verdict } from '../../../lib/rules/index.ts';
import type { UnitPreference } from '../../../lib/units/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { measureFar, sizeKnown } from '../../_client/measuring.ts';
import { call } from '../../_client/remote.ts';
import { type PagePicture, photoWithMarks, type ScaleBar } from '../../_client/report/pictures.ts';
import type { InspectionPages, ReportChain, ReportPictures } from '../../_client/report/reportPdf.ts';
import type { Workplace } from '../../_client/Workplace.tsx';
import { unroll } from '../../_drawings/unrolled.ts';
import type { ChainAnswer } from '../audit/useChain.ts';
import { measureText } from '../inspect/sizes.ts';

/** What reports of a wheel are made with. */
export interface Making {
  readonly view: Pick<InspectionView, 'wheel' | 'construction'>;
  readonly workplace: Workplace;
  readonly names: Names;
  readonly units: UnitPreference;
}

/** The slot that a part was in when the wheel was inspected; null: in none. */
type SlotOf = (component: string) => string | null;

/** The size of a mark as it is measured here; taken in the worker. */
async function sizeOf({ view }: Making, state: InspectionState, slotOf: SlotOf, mark: Mark) {
  const scene = sceneOfPhoto(state, mark.photo, sectionOfWheel(view.wheel));
  if (scene === null || mark.shape.form === 'spot') return null;
  const slot = slotOf(mark.component);
  const near = state.looksAtMarks.get(mark.mark)?.value ?? null;
  const placed = { shape: mark.shape, zone: mark.zone, slot, near };
  await measureFar(scene, placed);
  const size = sizeKnown(scene, placed);
  return size.ok ? size.value : null;
}

const BARS_MM = [5, 10, 20, 50, 100, 200, 500];
/** Length of the line that is measured to find the scale, px. */
const TRIED_PX = 200;

/** A scale bar that holds round the first mark of a photo; null where nothing gives a scale there. */
async function scaleBarOf(
  making: Making,
  state: InspectionState,
  slotOf: SlotOf,
  mark: Mark | undefined,
): Promise<ScaleBar | null> {
  if (mark === undefined) return null;
  const [x, y] = firstPoint(mark);
  const size = await sizeOf(making, state, slotOf, {
    ...mark,
    mark: `${mark.mark} scale`,
    shape: {
      form: 'span',
      ends: [
        [x, y],
        [x + TRIED_PX, y],
      ],
    },
  });
  if (size === null || size.value <= 0) return null;
  const pxPerMm = TRIED_PX / size.value;
  const lengthMm = BARS_MM.filter((one) => one * pxPerMm < 1200).at(-1) ?? 5;
  return { lengthPx: lengthMm * pxPerMm, words: `${lengthMm} mm at mark 1` };
}

function firstPoint({ shape }: Mark): readonly [number, number] {
  switch (shape.form) {
    case 'trace':
      return shape.branches[0]?.[0] ?? [0, 0];
    case 'patch':
      return shape.outline[0] ?? [0, 0];
    case 'band':
      return shape.centreLine[0] ?? [0, 0];
    case 'span':
      return shape.ends[0];
    case 'angle':
      return shape.vertex;
    case 'spot':
      return shape.at;
  }
}

async function photoPicture(
  making: Making,
  state: InspectionState,
  slotOf: SlotOf,
  { photo, marks }: ReportPhoto,
): Promise<PagePicture | null> {
  const { store, site } = making.workplace;
  const kept = await store.photo(photo);
  const blob = kept?.view ?? (kept?.widthPx == null ? null : kept.blob);
  const attached = state.photos.get(photo)?.value;
  const originalPx = attached?.widthPx ?? kept?.widthPx ?? null;
  if (originalPx === null) return null;
  const url = blob == null ? `/api/v1/photos/${photo}/2048?site=${site.id}` : URL.createObjectURL(blob);
  try {
    const drawn = marks.map(({ mark }) => mark);
    return await photoWithMarks(url, originalPx, drawn, await scaleBarOf(making, state, slotOf, drawn[0]));
  } catch (error) {
    // The report says at its place that the photo could not be had.
    console.warn(`Photo ${photo.slice(0, 8)} is left out of the report: ${errorText(error)}`);
    return null;
  } finally {
    if (blob != null) URL.revokeObjectURL(url);
  }
}

async function chainOf({ workplace: { site } }: Making, inspection: string): Promise<ReportChain | null> {
  try {
    const { entries, head } = await call<ChainAnswer>(
      'GET',
      `/api/v1/subjects/inspection/${inspection}/entries?site=${site.id}`,
    );
    return {
      entries: head.entries,
      hash: head.hash,
      whole: brokenLinks(entries.map(linkOf), head).length === 0,
    };
  } catch (error) {
    console.warn(`The record was not checked for the report: ${errorText(error)}`);
    return null;
  }
}

/** Everything that the pages of one inspection need; `onPhoto` is told of each photo as its turn comes. */
export async function pagesOf(
  making: Making,
  state: InspectionState,
  drawings: ReportPictures['drawings'],
  onPhoto: (n: number, of: number) => void,
): Promise<InspectionPages> {
  const { view, workplace, names, units } = making;
  const { register } = workplace;
  const then = state.submission?.at ?? state.opened?.at ?? '';
  const slotOf = (id: string) => slotAt(register, id, view.wheel.id, then);
  const words = new Map<Mark, string>();
  for (const { value } of state.marks.values()) {
    const size = await sizeOf(making, state, slotOf, value);
    if (size !== null) words.set(value, measureText(size.quantity, size.value, size.u, units));
  }
  const sizeWords = (mark: Mark) => words.get(mark) ?? '';
  const report = inspectionReport({ state, wheel: view.wheel, register, names, sizeWords });
  const verdict = state.submission?.value.verdict as unknown as Verdict | undefined;
  let photos = 0;
  return {
    report,
    chain: await chainOf(making, state.id),
    pictures: {
      drawings,
      unrolled: unroll(view.construction, state, (id) => slotOf(id) ?? NO_SLOT, verdict),
      photo: (photo) => {
        photos += 1;
        onPhoto(photos, report.photos.length);
        return photoPicture(making, state, slotOf, photo);
      },
    },
  };
}
