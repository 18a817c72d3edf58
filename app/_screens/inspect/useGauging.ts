import { useMemo } from 'react';
import type { Problem, Result } from '../../../lib/base/index.ts';
import { linesOf, type Mark } from '../../../lib/marks/index.ts';
import {
  type Grid,
  gridOf,
  type PhotoRuler,
  photoRuler,
  SURFACE_BY_ZONE,
  scalePoints,
  sceneOfPhoto,
  sectionOfWheel,
} from '../../../lib/photo/index.ts';
import type { PhotoScale, SurfaceChoice } from '../../../lib/record/index.ts';
import type { Section, ZoneId } from '../../../lib/wheel/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { type Gauge, gaugeOf } from './sizes.ts';

/** All that measures on one photo. */
export interface Gauging {
  readonly section: Section | null;
  readonly surface: SurfaceChoice;
  /** Null without a scale. */
  readonly ruler: Result<PhotoRuler, Problem> | null;
  readonly gauge: Gauge;
  slotOf(component: string): string | null;
}

/** Measures the marks of a photo with the scale, the surface and the section in force. */
export function useGauging(view: InspectionView, photo: string): Gauging {
  const { scales, surfaces, marks, looksAtMarks } = view.state;
  const [scale, surface] = [scales.get(photo), surfaces.get(photo)];
  const section = useMemo(() => sectionOfWheel(view.wheel), [view.wheel]);
  const { parts } = view;
  return useMemo(() => {
    const scene = sceneOfPhoto(
      { scales: new Map(scale && [[photo, scale]]), surfaces: new Map(surface && [[photo, surface]]) },
      photo,
      section,
    );
    const slots = new Map([...parts].map(([slot, { id }]) => [id, slot]));
    const slotOf = (component: string) => slots.get(component) ?? null;
    const ruler = scene === null ? null : photoRuler(scene);
    const looks = new Map(
      [...looksAtMarks].map(([mark, { value }]) => [marks.get(mark)?.value.shape, value] as const),
    );
    return {
      section,
      surface: surface?.value ?? SURFACE_BY_ZONE,
      ruler,
      gauge: ruler === null ? null : gaugeOf(ruler, slotOf, (shape) => looks.get(shape) ?? null),
      slotOf,
    };
  }, [photo, scale, surface, section, parts, marks, looksAtMarks]);
}

/** The measuring grid round a mark, or round the reference where no mark is chosen; null where it is not wanted. */
export function useGrid(
  { ruler, slotOf }: Gauging,
  mark: Pick<Mark, 'shape' | 'component' | 'zone'> | null,
  wanted: boolean,
): Grid | null {
  return useMemo(() => {
    if (!wanted || mark === null || ruler?.ok !== true) return null;
    const points = [...linesOf(mark.shape).flatMap((line) => line.points), ...ruler.value.reference.pointsPx];
    return gridOf(ruler.value, { ...mark, slot: slotOf(mark.component) }, points);
  }, [ruler, slotOf, mark, wanted]);
}

/** What the grid is laid round: a mark, or the middle of what gives the scale. */
export function useAbout(
  mark: Mark | null,
  scale: PhotoScale | null,
  attached: { readonly component: string; readonly zone: ZoneId } | undefined,
): Pick<Mark, 'shape' | 'component' | 'zone'> | null {
  return useMemo(() => {
    if (mark !== null) return mark;
    if (scale === null || attached === undefined) return null;
    const points = scalePoints(scale).map(([x, y]): [number, number] => [x, y]);
    return { shape: { form: 'patch', outline: points }, component: attached.component, zone: attached.zone };
  }, [mark, scale, attached]);
}

/** The surface that a mark is taken on, in words. */
export function takenAs(
  { ruler, slotOf }: Gauging,
  about: Pick<Mark, 'shape' | 'component' | 'zone'> | null,
): string {
  if (ruler === null || about === null) return '';
  return ruler.ok
    ? ruler.value.placingFor({ ...about, slot: slotOf(about.component) }).what
    : ruler.error.message;
}
