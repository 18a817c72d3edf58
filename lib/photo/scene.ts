import type { InspectionState, WheelState } from '../record/index.ts';
import { constructionOf, parseDesignation, type Section, sectionOf } from '../wheel/index.ts';
import { type PhotoScene, SURFACE_BY_ZONE } from './measure.ts';

/** Section of a wheel’s rim at its own size; null where the designation does not give diameter, width and flange. */
export function sectionOfWheel(wheel: Pick<WheelState, 'construction' | 'designation'>): Section | null {
  const size = parseDesignation(wheel.designation);
  if (!size.ok) return null;
  const section = sectionOf(constructionOf(wheel.construction), size.value);
  return section.assumed.length === 0 ? section : null;
}

/** What turns pixels of a photo into millimetres, from the record of an inspection; null where no scale was set. */
export function sceneOfPhoto(
  inspection: Pick<InspectionState, 'scales' | 'surfaces'>,
  photo: string,
  section: Section | null,
): PhotoScene | null {
  const set = inspection.scales.get(photo)?.value;
  if (set === undefined) return null;
  const surface = inspection.surfaces.get(photo)?.value ?? SURFACE_BY_ZONE;
  return { scale: set.scale, camera: set.camera, surface, section };
}
