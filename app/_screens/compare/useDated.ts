'use client';
import { useMemo } from 'react';
import { fail, problem } from '../../../lib/base/index.ts';
import { type DatedMark, type DatedPhoto, hoursOn, type MarkSize } from '../../../lib/history/index.ts';
import {
  type PhotoScene,
  type Placed,
  type RimScene,
  sceneOfPhoto,
  sectionOfWheel,
} from '../../../lib/photo/index.ts';
import { type RegisterState, slotAt } from '../../../lib/record/index.ts';
import { knownMeasure, sizeKnown } from '../../_client/measuring.ts';
import { useTaken } from '../../_client/useTaken.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import type { Side } from './usePair.ts';

interface Sought {
  readonly scene: PhotoScene | null;
  readonly placed: Placed;
  readonly mark: Omit<DatedMark, 'size'>;
}

const NO_SCALE = fail(
  problem(
    'compare-scale',
    'scale',
    '',
    'No scale is set on this photo',
    'Set one on the photo, then sizes can be compared.',
  ),
);

/** What the records say of the rim in both photos; null where one has no scale, or its part is in no known place. */
export function useRims(pair: readonly [Side, Side]): readonly [RimScene, RimScene] | null {
  const { register } = useWorkplace();
  return useMemo(() => {
    const [one, other] = pair.map((side) => rimOn(side, register));
    return one && other ? [one, other] : null;
  }, [pair, register]);
}

/** What the sizes of a photo are taken from; null where it has no scale. */
function sceneOn({ inspection, photo }: Side, register: RegisterState): PhotoScene | null {
  const wheel = inspection.wheel === null ? undefined : register.wheels.get(inspection.wheel);
  return sceneOfPhoto(inspection, photo, wheel === undefined ? null : sectionOfWheel(wheel));
}

/** Where a part was in the wheel of the inspection when it was inspected; null: nowhere. */
function slotOf({ inspection, at }: Side, component: string, register: RegisterState): string | null {
  return slotAt(register, component, inspection.wheel, at);
}

function rimOn(side: Side, register: RegisterState): RimScene | null {
  const attached = side.inspection.photos.get(side.photo)?.value;
  const scene = sceneOn(side, register);
  const slot = slotOf(side, attached?.component ?? '', register);
  return scene === null || attached === undefined || slot === null
    ? null
    : { scene, slot, zone: attached.zone };
}

function soughtOn(side: Side, register: RegisterState): Sought[] {
  const { inspection, photo } = side;
  const scene = sceneOn(side, register);
  return [...inspection.marks.values()]
    .filter(({ value }) => value.photo === photo)
    .map(({ value, author }) => ({
      scene,
      placed: {
        shape: value.shape,
        near: inspection.looksAtMarks.get(value.mark)?.value ?? null,
        slot: slotOf(side, value.component, register),
        zone: value.zone,
      },
      mark: { mark: value.mark, shape: value.shape, defect: value.defect, author },
    }));
}

/** Both photos with their marks measured, in the worker; null while sizes are being taken. */
export function useDated(pair: readonly [Side, Side] | null, component: string | null) {
  const { register } = useWorkplace();
  const sought = useMemo(
    () => (pair === null ? null : ([soughtOn(pair[0], register), soughtOn(pair[1], register)] as const)),
    [pair, register],
  );
  const wanted = useMemo(
    () => (sought ?? []).flat().flatMap(({ scene, placed }) => (scene === null ? [] : [{ scene, placed }])),
    [sought],
  );
  const taken = useTaken(wanted);
  if (pair === null || sought === null || !taken) return null;
  const hours = component === null ? [] : (register.components.get(component)?.hoursNoted ?? []);
  const dated = (i: 0 | 1): DatedPhoto => ({
    photo: pair[i].photo,
    at: pair[i].at,
    marks: sought[i].map(({ scene, placed, mark }) => ({ ...mark, size: sizeIn(scene, placed) })),
    hours: hoursOn(hours, pair[i].at.slice(0, 10)),
  });
  return [dated(0), dated(1)] as const;
}

function sizeIn(scene: PhotoScene | null, placed: Placed): DatedMark['size'] {
  if (scene === null) return NO_SCALE;
  const size = sizeKnown(scene, placed);
  if (!size.ok) return size;
  const { quantity, value, u } = size.value;
  return { ok: true, value: { quantity, value, u } satisfies MarkSize };
}

/** Size of one px of a photo at its marks, mm, where a scale is set and something was measured; else null. */
export function mmPerPxOf(side: Side, register: RegisterState): number | null {
  for (const { scene, placed } of soughtOn(side, register)) {
    const known = scene === null ? undefined : knownMeasure(scene, placed);
    if (known?.size.ok) return known.size.value.mmPerPx;
  }
  return null;
}
