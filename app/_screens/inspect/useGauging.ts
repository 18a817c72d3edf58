import { useEffect, useMemo, useReducer, useRef, useState } from 'react';
import { linesOf, type Mark } from '../../../lib/marks/index.ts';
import {
  type Grid,
  judgeMeasure,
  type MarkMeasured,
  type PhotoScene,
  type Placed,
  SURFACE_BY_ZONE,
  scalePoints,
  sceneOfPhoto,
  sectionOfWheel,
} from '../../../lib/photo/index.ts';
import type { PhotoScale, SurfaceChoice } from '../../../lib/record/index.ts';
import type { Section, ZoneId } from '../../../lib/wheel/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { gridFar, knownMeasure, measureFar } from '../../_client/measuring.ts';
import type { Gauge } from './sizes.ts';

type OnPhoto = Pick<Mark, 'shape' | 'component' | 'zone'>;

/** All that measures on one photo. */
export interface Gauging {
  readonly section: Section | null;
  readonly surface: SurfaceChoice;
  /** Null without a scale. */
  readonly scene: PhotoScene | null;
  readonly gauge: Gauge | null;
  /** Everything of a mark; null without a scale, and while it is being measured. */
  measured(mark: OnPhoto): MarkMeasured | null;
  placed(mark: OnPhoto): Placed;
  slotOf(component: string): string | null;
}

/** Measures asked for at a time. */
const OPEN_MAX = 8;

/** What was measured before; what was not is measured in the worker, and the screen is drawn again with it. */
function useFarMeasures(): (scene: PhotoScene, placed: Placed) => MarkMeasured | null {
  const [, arrived] = useReducer((count: number) => count + 1, 0);
  const shown = useRef(false);
  const open = useRef(0);
  useEffect(() => {
    shown.current = true;
    return () => {
      shown.current = false;
    };
  }, []);
  return (scene, placed) => {
    const known = knownMeasure(scene, placed);
    if (known !== undefined) return known;
    // More are asked for when these are there: while a shape is being drawn only its newest form counts.
    if (open.current >= OPEN_MAX) return null;
    open.current += 1;
    void measureFar(scene, placed).finally(() => {
      open.current -= 1;
      if (shown.current) arrived();
    });
    return null;
  };
}

/** Measures the marks of a photo with the scale, the surface and the section in force. */
export function useGauging(view: InspectionView, photo: string): Gauging {
  const { scales, surfaces, marks, looksAtMarks } = view.state;
  const [scale, surface] = [scales.get(photo), surfaces.get(photo)];
  const { parts } = view;
  const section = useMemo(() => sectionOfWheel(view.wheel), [view.wheel]);
  const far = useFarMeasures();
  const scene = useMemo(
    () =>
      sceneOfPhoto(
        { scales: new Map(scale && [[photo, scale]]), surfaces: new Map(surface && [[photo, surface]]) },
        photo,
        section,
      ),
    [photo, scale, surface, section],
  );
  const looks = useMemo(
    () =>
      new Map([...looksAtMarks].map(([mark, { value }]) => [marks.get(mark)?.value.shape, value] as const)),
    [marks, looksAtMarks],
  );
  const slots = useMemo(() => new Map([...parts].map(([slot, { id }]) => [id, slot])), [parts]);
  const slotOf = (component: string) => slots.get(component) ?? null;
  const placed = ({ shape, zone, component }: OnPhoto): Placed => ({
    shape,
    zone,
    slot: slotOf(component),
    near: looks.get(shape) ?? null,
  });
  const measured = (mark: OnPhoto) => (scene === null ? null : far(scene, placed(mark)));
  const gauge: Gauge = (mark) => {
    const size = measured(mark)?.size ?? null;
    return size?.ok === true ? judgeMeasure(size.value, placed(mark).near ?? null) : size;
  };
  return {
    section,
    surface: surface?.value ?? SURFACE_BY_ZONE,
    scene,
    gauge: scene === null ? null : gauge,
    measured,
    placed,
    slotOf,
  };
}

/** The measuring grid round a mark, or round the reference where no mark is chosen; null where it is not wanted. */
export function useGrid({ scene, placed }: Gauging, mark: OnPhoto | null, wanted: boolean): Grid | null {
  const [grid, setGrid] = useState<Grid | null>(null);
  const slot = mark === null ? null : placed(mark).slot;
  useEffect(() => {
    if (!wanted || mark === null || scene === null) return setGrid(null);
    let gone = false;
    const points = linesOf(mark.shape).flatMap((line) => line.points);
    void gridFar(scene, { shape: mark.shape, zone: mark.zone, slot }, points).then(
      (found) => gone || setGrid(found),
    );
    return () => {
      gone = true;
    };
  }, [scene, mark, slot, wanted]);
  return grid;
}

/** What the grid is laid round: a mark, or the middle of what gives the scale. */
export function useAbout(
  mark: Mark | null,
  scale: PhotoScale | null,
  attached: { readonly component: string; readonly zone: ZoneId } | undefined,
): OnPhoto | null {
  return useMemo(() => {
    if (mark !== null) return mark;
    if (scale === null || attached === undefined) return null;
    const points = scalePoints(scale).map(([x, y]): [number, number] => [x, y]);
    return { shape: { form: 'patch', outline: points }, component: attached.component, zone: attached.zone };
  }, [mark, scale, attached]);
}

/** The surface that a mark is taken on, in words. */
export function takenAs({ measured }: Gauging, about: OnPhoto | null): string {
  if (about === null) return '';
  const found = measured(about);
  if (found === null) return '…';
  return found.surface === '' && !found.size.ok ? found.size.error.message : found.surface;
}
