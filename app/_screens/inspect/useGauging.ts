import { useMemo } from 'react';
import type { Problem, Result } from '../../../lib/base/index.ts';
import type { Mark, Shape } from '../../../lib/marks/index.ts';
import {
  type Grid,
  gridOf,
  type PhotoRuler,
  photoRuler,
  SURFACE_BY_ZONE,
  sceneOfPhoto,
  sectionOfWheel,
} from '../../../lib/photo/index.ts';
import type { SurfaceChoice } from '../../../lib/record/index.ts';
import type { Section } from '../../../lib/wheel/index.ts';
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
  const { scales, surfaces } = view.state;
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
    return {
      section,
      surface: surface?.value ?? SURFACE_BY_ZONE,
      ruler,
      gauge: ruler === null ? null : gaugeOf(ruler, slotOf),
      slotOf,
    };
  }, [photo, scale, surface, section, parts]);
}

/** The measuring grid round a mark, or round the reference where no mark is chosen; null where it is not wanted. */
export function useGrid(
  { ruler, slotOf }: Gauging,
  mark: Pick<Mark, 'shape' | 'component' | 'zone'> | null,
  wanted: boolean,
): Grid | null {
  return useMemo(() => {
    if (!wanted || mark === null || ruler?.ok !== true) return null;
    const points = [...pointsOf(mark.shape), ...ruler.value.reference.pointsPx];
    return gridOf(ruler.value, { ...mark, slot: slotOf(mark.component) }, points);
  }, [ruler, slotOf, mark, wanted]);
}

function pointsOf(shape: Shape): readonly (readonly [number, number])[] {
  switch (shape.form) {
    case 'trace':
      return shape.branches.flat();
    case 'patch':
      return shape.outline;
    case 'band':
      return shape.centreLine;
    case 'span':
      return shape.ends;
    case 'angle':
      return [shape.vertex, ...shape.arms];
    case 'spot':
      return [shape.at];
  }
}
