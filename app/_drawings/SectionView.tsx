import type { Line, Section } from '../../lib/wheel/index.ts';
import { clipLine } from '../../lib/wheel/index.ts';
import type { ZoneState } from '../_screens/inspect/zoneStates.ts';
import { sameZone, type ZoneKey } from './picking.ts';
import type { PlacedMark } from './placing.ts';
import classes from './SectionDrawing.module.css';
import { StandingShape, standingClass } from './standing.tsx';
import { toPx, type View } from './views.ts';

/** A line of the section as the path of a view, px. */
export function pathOf(view: View, line: Line, closed: boolean): string {
  const points = line.map((point) => {
    const [x, y] = toPx(view, point);
    return `${x.toFixed(1)} ${y.toFixed(1)}`;
  });
  return `M${points.join('L')}${closed ? 'Z' : ''}`;
}

/** Directions of hatching: parts that touch are hatched differently, as drafting has it. */
const HATCHES = {
  'rim base': 'hatch-a',
  'side flange': 'hatch-b',
  'bead seat band': 'hatch-c',
  'lock ring': 'hatch-d',
  'O-ring': null,
} as const;

/** The hatchings of the metal, once per drawing. */
export function Hatches({ id }: { id: string }) {
  const one = (name: string, angle: number, spacing: number) => (
    <pattern
      id={`${id}-${name}`}
      width={spacing}
      height={spacing}
      patternUnits="userSpaceOnUse"
      patternTransform={`rotate(${angle})`}
    >
      <rect width={spacing} height={spacing} className={classes.metal} />
      <path d={`M0 0V${spacing}`} className={classes.hatch} />
    </pattern>
  );
  return (
    <defs>
      {one('hatch-a', 45, 8)}
      {one('hatch-b', -45, 8)}
      {one('hatch-c', 20, 5)}
      {one('hatch-d', -70, 5)}
    </defs>
  );
}

/** The metal of one view: parts with hatching, welds, openings, break lines. */
export function Metal({ section, view, id }: { section: Section; view: View; id: string }) {
  const clip = `${id}-${view.name.replace(' ', '-')}`;
  const leftX = view.cutAt === 'left' ? view.left : view.left - 4;
  const rightX = view.left + view.width + (view.cutAt === 'right' ? 0 : 4);
  return (
    <g>
      <clipPath id={clip}>
        <rect x={leftX} y={view.top} width={rightX - leftX} height={view.height} />
      </clipPath>
      <g clipPath={`url(#${clip})`}>
        {section.parts.map((part) => {
          const hatch = HATCHES[part.kind];
          return part.outlines.map((outline) => (
            <path
              key={part.slot}
              d={pathOf(view, outline, true)}
              className={classes.part}
              fill={hatch === null ? 'currentColor' : `url(#${id}-${hatch})`}
            />
          ));
        })}
        {section.features.map((feature) => (
          <path
            key={`${feature.zone}-${feature.outline[0]?.[0] ?? 0}`}
            d={pathOf(view, feature.outline, true)}
            className={
              feature.zone === 'valve slot' || feature.zone === 'stud holes'
                ? classes.opening
                : feature.zone === 'butt weld'
                  ? classes.seam
                  : classes.weld
            }
          />
        ))}
      </g>
      {view.cutAt === null ? null : <BreakLine view={view} cutAt={view.cutAt} wallMm={wallOf(section)} />}
    </g>
  );
}

function wallOf(section: Section): number {
  return Math.max(...section.features.flatMap((feature) => feature.outline.map(([, y]) => y)), 1);
}

/** The long break line of drafting: straight with one zigzag, across the wall that goes on. */
function BreakLine({ view, cutAt, wallMm }: { view: View; cutAt: 'left' | 'right'; wallMm: number }) {
  const [x, top] = toPx(view, [cutAt === 'left' ? view.from : view.to, wallMm]);
  const [, bottom] = toPx(view, [0, 0]);
  const middle = (top + bottom) / 2;
  return (
    <path d={`M${x} ${top - 16}V${middle - 6}l-6 4 12 4-6 4V${bottom + 16}`} className={classes.breakLine} />
  );
}

/** The zones of one view as lines on the metal, with the look of their standing. */
export function ZoneLines({
  section,
  view,
  states,
  lit,
}: {
  section: Section;
  view: View;
  states: ReadonlyMap<string, ZoneState>;
  lit: readonly ZoneKey[];
}) {
  const lines = section.parts.flatMap((part) =>
    part.zones.flatMap(({ zone, lines: all }) => {
      const state = states.get(`${part.slot}|${zone}`);
      if (state === undefined) return [];
      const isLit = lit.some((one) => sameZone(one, { slot: part.slot, zone }));
      return all
        .flatMap((line) => clipLine(line, view.from, view.to))
        .map((line) => ({
          key: `${part.slot}|${zone}|${line[0]?.join() ?? ''}`,
          d: pathOf(view, line, false),
          standing: state.standing,
          isLit,
        }));
    }),
  );
  return (
    <g fill="none">
      {lines
        .filter(({ isLit }) => isLit)
        .map(({ key, d }) => (
          <path key={key} d={d} className={classes.lit} />
        ))}
      {lines.map(({ key, d, standing }) => (
        <g key={key} className={standingClass(standing)}>
          <path d={d} className={classes.casing} />
          <path d={d} className={classes.zone} />
        </g>
      ))}
    </g>
  );
}

/** The marks of standing, each with a short line to its zone when it had to step aside. */
export function Marks({
  marks,
  states,
  lit,
}: {
  marks: readonly PlacedMark[];
  states: ReadonlyMap<string, ZoneState>;
  lit: readonly ZoneKey[];
}) {
  const shown = marks.flatMap((mark) => {
    const state = states.get(`${mark.slot}|${mark.zone}`);
    return state === undefined ? [] : [{ mark, state }];
  });
  return (
    <g>
      {shown.map(({ mark }) => (
        <path
          key={keyOf(mark)}
          d={`M${mark.at[0]} ${mark.at[1]}L${mark.anchor[0]} ${mark.anchor[1]}`}
          className={classes.stem}
        />
      ))}
      {shown.map(({ mark, state }) => {
        const isLit = lit.some((one) => sameZone(one, mark));
        return (
          <g
            key={keyOf(mark)}
            transform={`translate(${mark.at[0].toFixed(1)} ${mark.at[1].toFixed(1)})`}
            className={standingClass(state.standing)}
          >
            <circle r={isLit ? 11 : 9} className={isLit ? classes.markLit : classes.mark} />
            <StandingShape standing={state.standing} />
          </g>
        );
      })}
    </g>
  );
}

function keyOf(mark: PlacedMark): string {
  return `${mark.slot}|${mark.zone}|${mark.anchor.join()}`;
}
