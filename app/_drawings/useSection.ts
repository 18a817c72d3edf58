'use client';
import { type RefObject, useMemo } from 'react';
import { type Construction, parseDesignation, type Section, sectionOf } from '../../lib/wheel/index.ts';
import { type PlacedMark, placeMarks } from './placing.ts';
import { useWidth } from './useWidth.ts';
import { type Sheet, sheetFor } from './views.ts';

const FIRST_WIDTH_PX = 360;

/** A wheel's section on a sheet as wide as the element that `ref` is given to, with the places of its marks. */
export function useSection(
  construction: Construction,
  designation: string,
): {
  readonly ref: RefObject<HTMLDivElement | null>;
  readonly section: Section;
  readonly sheet: Sheet;
  readonly marks: readonly PlacedMark[];
} {
  const [ref, width] = useWidth<HTMLDivElement>(FIRST_WIDTH_PX);
  const section = useMemo(() => {
    const size = parseDesignation(designation);
    return sectionOf(construction, size.ok ? size.value : null);
  }, [construction, designation]);
  const sheet = useMemo(() => sheetFor(section, width), [section, width]);
  const marks = useMemo(
    () => sheet.views.flatMap((view) => placeMarks(section, view, sheet)),
    [section, sheet],
  );
  return { ref, section, sheet, marks };
}
