'use client';
import { type MouseEvent, type PointerEvent, useId, useMemo, useRef, useState } from 'react';
import {
  type Construction,
  type Point,
  parseDesignation,
  sectionOf,
  type ZoneId,
} from '../../lib/wheel/index.ts';
import type { ZoneState } from '../_screens/inspect/zoneStates.ts';
import { MOUSE_DOUBT_PX, meant, type Near, TOUCH_DOUBT_PX, type ZoneKey, zonesAt } from './picking.ts';
import { placeMarks } from './placing.ts';
import classes from './SectionDrawing.module.css';
import { Dimensions, Names, ScaleBar } from './SectionNotes.tsx';
import { Hatches, Marks, Metal, ZoneLines } from './SectionView.tsx';
import { useWidth } from './useWidth.ts';
import { sheetFor } from './views.ts';
import { Key, ZoneLine, ZoneList } from './ZoneWords.tsx';

const FIRST_WIDTH_PX = 360;

/**
 * The wheel's section to scale with the standing of every zone. A touch picks the nearest zone and opens it; where
 * several are within a gloved finger's width it asks which. On a narrow sheet the plain centre is left out between
 * break lines and the two ends stand one above the other.
 */
export function SectionDrawing({
  construction,
  designation,
  zones,
  selected,
  onZone,
}: {
  construction: Construction;
  designation: string;
  zones: readonly ZoneState[];
  selected: { readonly slot: string; readonly zone: ZoneId } | null;
  onZone(slot: string, zone: ZoneId): void;
}) {
  const id = useId();
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
  const states = useMemo(
    () => new Map(zones.map((state) => [`${state.slot}|${state.zone}`, state])),
    [zones],
  );
  const [hovered, setHovered] = useState<ZoneKey | null>(null);
  const [offered, setOffered] = useState<readonly Near[]>([]);
  const pointer = useRef('mouse');

  const near = (event: MouseEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    const place: Point = [event.clientX - box.left, event.clientY - box.top];
    return zonesAt(section, sheet, marks, place).filter(({ slot, zone }) => states.has(`${slot}|${zone}`));
  };
  const pick = (event: MouseEvent<SVGSVGElement>) => {
    const choice = meant(near(event), pointer.current === 'mouse' ? MOUSE_DOUBT_PX : TOUCH_DOUBT_PX);
    const [only] = choice;
    setHovered(null);
    setOffered(choice.length > 1 ? choice : []);
    if (only !== undefined && choice.length === 1) onZone(only.slot, only.zone);
  };
  const hover = (event: PointerEvent<SVGSVGElement>) => {
    if (event.pointerType === 'mouse') setHovered(near(event)[0] ?? null);
  };
  const lit: readonly ZoneKey[] =
    hovered !== null ? [hovered] : offered.length > 0 ? offered : selected === null ? [] : [selected];
  return (
    <section className={classes.drawing} aria-label="Section of the rim">
      <div ref={ref} className={classes.sheet}>
        {/* biome-ignore lint/a11y/useKeyWithClickEvents: every zone is a button in the list below */}
        <svg
          role="img"
          aria-label={`Section of a ${construction.id} rim ${designation}; the list below has the same zones`}
          width={sheet.width}
          height={sheet.height}
          onPointerDown={(event) => {
            pointer.current = event.pointerType;
          }}
          onPointerMove={hover}
          onPointerLeave={() => setHovered(null)}
          onClick={pick}
        >
          <Hatches id={id} />
          {sheet.views.map((view) => (
            <g key={view.name}>
              <Metal section={section} view={view} id={id} />
              <Dimensions section={section} view={view} sheet={sheet} />
              <ZoneLines section={section} view={view} states={states} lit={lit} />
              <Names section={section} view={view} sheet={sheet} />
            </g>
          ))}
          <Marks marks={marks} states={states} lit={lit} />
          <ScaleBar sheet={sheet} />
        </svg>
      </div>
      <ZoneLine states={states} lit={lit} offered={hovered === null ? offered : []} onZone={onZone} />
      <Key zones={zones} />
      <p className={classes.note}>
        {section.assumed.length === 0
          ? 'Width, flange height and tapers to scale; walls and curls schematic.'
          : `Not given by “${designation}” and assumed here: ${section.assumed.join(', ')}. Walls and curls schematic.`}
      </p>
      <ZoneList construction={construction} states={states} onZone={onZone} />
    </section>
  );
}
