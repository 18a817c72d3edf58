'use client';
import { useId } from 'react';
import { type Construction, clipLine } from '../../lib/wheel/index.ts';
import classes from './heat.module.css';
import { heatOf } from './heat.ts';
import { Names } from './SectionNotes.tsx';
import { Hatches, Metal, pathOf } from './SectionView.tsx';
import { useSection } from './useSection.ts';

/** The section of the rim with the count of every zone: as a shade of its line, and as a number beside it. */
export function SectionCounts({
  construction,
  designation,
  counts,
  largest,
}: {
  construction: Construction;
  designation: string;
  /** By slot and zone, joined with a bar. */
  counts: ReadonlyMap<string, number>;
  largest: number;
}) {
  const id = useId();
  const { ref, section, sheet, marks } = useSection(construction, designation);
  const countAt = (slot: string, zone: string) => counts.get(`${slot}|${zone}`) ?? 0;
  const heatAt = (slot: string, zone: string) => classes[`heat${heatOf(countAt(slot, zone), largest)}`];
  return (
    <div ref={ref} className={classes.section}>
      <svg
        role="img"
        aria-label={`Section of a ${construction.id} rim with counts by zone; the table below has the same figures`}
        width={sheet.width}
        height={sheet.height}
      >
        <Hatches id={id} />
        {sheet.views.map((view) => (
          <g key={view.name}>
            <Metal section={section} view={view} id={id} />
            {section.parts.flatMap((part) =>
              part.zones.flatMap(({ zone, lines }) =>
                lines
                  .flatMap((line) => clipLine(line, view.from, view.to))
                  .map((line) => (
                    <g key={`${part.slot}|${zone}|${line[0]?.join()}`} className={heatAt(part.slot, zone)}>
                      <path d={pathOf(view, line, false)} className={classes.casing} />
                      <path d={pathOf(view, line, false)} className={classes.line} />
                    </g>
                  )),
              ),
            )}
            <Names section={section} view={view} sheet={sheet} />
          </g>
        ))}
        {marks.map(({ slot, zone, at, anchor }) => (
          <path
            key={`${slot}|${zone}|${anchor.join()}`}
            d={`M${at[0]} ${at[1]}L${anchor[0]} ${anchor[1]}`}
            className={classes.stem}
          />
        ))}
        {marks.map(({ slot, zone, at, anchor }) => (
          <g
            key={`${slot}|${zone}|${anchor.join()}`}
            transform={`translate(${at[0].toFixed(1)} ${at[1].toFixed(1)})`}
            className={heatAt(slot, zone)}
          >
            <circle r={10} className={classes.mark} />
            <text dy="4" className={classes.count}>
              {countAt(slot, zone)}
            </text>
          </g>
        ))}
      </svg>
    </div>
  );
}
