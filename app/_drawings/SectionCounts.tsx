'use client';
import { useId, useMemo } from 'react';
import { type Construction, clipLine, parseDesignation, sectionOf } from '../../lib/wheel/index.ts';
import classes from './heat.module.css';
import { heatOf } from './heat.ts';
import { placeMarks } from './placing.ts';
import { Names } from './SectionNotes.tsx';
import { Hatches, Metal } from './SectionView.tsx';
import { useWidth } from './useWidth.ts';
import { sheetFor, toPx, type View } from './views.ts';

const FIRST_WIDTH_PX = 360;

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
                      <path d={pathOf(view, line)} className={classes.casing} />
                      <path d={pathOf(view, line)} className={classes.line} />
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

function pathOf(view: View, line: readonly (readonly [number, number])[]): string {
  return `M${line
    .map((point) =>
      toPx(view, point)
        .map((one) => one.toFixed(1))
        .join(' '),
    )
    .join('L')}`;
}
