import type { InspectionState, WheelState } from '../record/index.ts';
import { constructionOf, parseDesignation, type Section, sectionOf } from '../wheel/index.ts';
import { type PhotoScene, SURFACE_BY_ZONE } from './laid.ts';

/** Sections made before; a fleet has a few sizes. */
const sections = new Map<string, Section | null>();
const SECTIONS_KEPT = 64;

/** Section of a wheel’s rim at its own size; null where the designation does not give diameter, width and flange. */
export function sectionOfWheel({
  construction,
  designation,
}: Pick<WheelState, 'construction' | 'designation'>): Section | null {
  const key = `${construction}|${designation}`;
  const known = sections.get(key);
  if (known !== undefined) return known;
  const size = parseDesignation(designation);
  const section = size.ok ? sectionOf(constructionOf(construction), size.value) : null;
  const whole = section === null || section.assumed.length > 0 ? null : section;
  if (sections.size >= SECTIONS_KEPT) sections.clear();
  sections.set(key, whole);
  return whole;
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
