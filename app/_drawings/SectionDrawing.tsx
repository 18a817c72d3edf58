'use client';
import { useId, useMemo } from 'react';
import type { Construction, ZoneId } from '../../lib/wheel/index.ts';
import type { ZoneState } from '../_screens/inspect/zoneStates.ts';
import type { ZoneKey } from './picking.ts';
import classes from './SectionDrawing.module.css';
import { Dimensions, Names, ScaleBar } from './SectionNotes.tsx';
import { Hatches, Marks, Metal, ZoneLines } from './SectionView.tsx';
import { usePicking } from './usePicking.ts';
import { useSection } from './useSection.ts';
import { Key, ZoneLine, ZoneList } from './ZoneWords.tsx';

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
  wide = true,
}: {
  construction: Construction;
  designation: string;
  zones: readonly ZoneState[];
  selected: { readonly slot: string; readonly zone: ZoneId } | null;
  onZone(slot: string, zone: ZoneId): void;
  /** On a desk the drawing leaves a narrow column that stands in the middle of the window, to be drawn whole. */
  wide?: boolean;
}) {
  const id = useId();
  const { ref, section, sheet, marks } = useSection(construction, designation);
  const states = useMemo(
    () => new Map(zones.map((state) => [`${state.slot}|${state.zone}`, state])),
    [zones],
  );
  const known = ({ slot, zone }: ZoneKey) => states.has(`${slot}|${zone}`);
  const { offered, lit: pointedAt, hands } = usePicking({ section, sheet, marks, known, onZone });
  const lit = pointedAt.length > 0 || selected === null ? pointedAt : [selected];
  return (
    <section className={`${classes.drawing} ${wide ? classes.wide : ''}`} aria-label="Section of the rim">
      <div ref={ref} className={classes.sheet}>
        {/* For the keyboard every zone is a button in the list below. */}
        <svg
          role="img"
          aria-label={`Section of a ${construction.id} rim ${designation}; the list below has the same zones`}
          width={sheet.width}
          height={sheet.height}
          {...hands}
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
      <ZoneLine states={states} lit={lit} offered={offered} onZone={onZone} />
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
