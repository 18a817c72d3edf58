'use client';
import { useId } from 'react';
import { type Class, sizeText } from '../../lib/rules/index.ts';
import type { LimitRow } from '../../lib/tolerances/index.ts';
import { useUnits } from '../_client/units.ts';
import { bandsOf, type Piles, pileUp } from './bands.ts';
import classes from './LimitBands.module.css';
import { useWidth } from './useWidth.ts';

const DOT = 6;
const DOTS_MAX = 10;
const BAR = 34;
const LABELS = 40;
/** Rough px that one figure of a label takes. */
const FIGURE = 8;

const SHADES: Readonly<Record<Class, string>> = {
  keep: classes.keep ?? '',
  repair: classes.repair ?? '',
  scrap: classes.scrap ?? '',
};

/** A limit as bands on a scale, with readings as dots above it. */
export function LimitBands({ row, readings }: { row: LimitRow; readings: readonly number[] }) {
  const [ref, width] = useWidth<HTMLDivElement>(340);
  const hatch = useId();
  const { from, to, bands, ends } = bandsOf(row, readings);
  const place = (value: number) => ((value - from) / (to - from)) * width;
  const { perDot, piles } = pileUp(readings, place, DOT, DOTS_MAX);
  const top = 4 + DOT * Math.max(0, ...piles.map((pile) => pile.dots));
  const [units] = useUnits();
  const text = (value: number) => sizeText(row.characteristic, value, units);
  const told = bands
    .map((band, index) => {
      const [first, last] = [index === 0, index === bands.length - 1];
      if (first) return `below ${text(band.to)} ${band.class}`;
      return last
        ? `above ${text(band.from)} ${band.class}`
        : `${text(band.from)} to ${text(band.to)} ${band.class}`;
    })
    .join(', ');
  return (
    <div ref={ref}>
      <svg
        className={classes.drawing}
        viewBox={`0 0 ${width} ${top + BAR + LABELS}`}
        role="img"
        aria-label={`${told}; ${readings.length} readings`}
      >
        <defs>
          <pattern id={`${hatch}repair`} width="8" height="8" patternUnits="userSpaceOnUse">
            <path d="M0 8 8 0" className={classes.strokeRepair} strokeWidth="1" opacity="0.5" />
          </pattern>
          <pattern id={`${hatch}scrap`} width="6" height="6" patternUnits="userSpaceOnUse">
            <path d="M0 3H6M3 0V6" className={classes.strokeScrap} strokeWidth="1" opacity="0.4" />
          </pattern>
        </defs>
        <Dots piles={piles} top={top} />
        {bands.map((band) => {
          const [x, end] = [place(band.from), place(band.to)];
          return (
            <g key={band.from}>
              <rect x={x} y={top} width={end - x} height={BAR} className={SHADES[band.class]} />
              {band.class === 'keep' ? null : (
                <rect x={x} y={top} width={end - x} height={BAR} fill={`url(#${hatch}${band.class})`} />
              )}
              {end - x < 46 ? null : (
                <text
                  x={(x + end) / 2}
                  y={top + BAR / 2 + 5}
                  className={`${classes.word} ${SHADES[band.class]}`}
                >
                  {band.class}
                </text>
              )}
            </g>
          );
        })}
        <Ends ends={ends} place={place} text={text} top={top + BAR} width={width} />
      </svg>
      {perDot === 1 ? null : <p className={classes.scale}>Each dot stands for up to {perDot} readings.</p>}
    </div>
  );
}

/** Readings as piles of dots standing on the bands. */
function Dots({ piles, top }: { piles: Piles['piles']; top: number }) {
  return piles.flatMap(({ x, dots }) =>
    Array.from({ length: dots }, (_, index) => top - DOT / 2 - 1 - index * DOT).map((y) => (
      <circle key={`${x} ${y}`} className={classes.dot} cx={x} cy={y} r={DOT / 2 - 0.4} />
    )),
  );
}

interface EndsProps {
  readonly ends: readonly number[];
  readonly top: number;
  readonly width: number;
  place(value: number): number;
  text(value: number): string;
}

/** Ends of the bands with their figures; a figure that would run into the one before goes a line lower. */
function Ends({ ends, place, text, top, width }: EndsProps) {
  let free = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  return ends.map((end) => {
    const label = text(end);
    const half = (label.length * FIGURE) / 2;
    const x = Math.min(Math.max(place(end), half), width - half);
    const line = x - half >= (free[0] ?? 0) ? 0 : 1;
    free = free.map((until, index) => (index === line ? x + half + 4 : until));
    return (
      <g key={end}>
        <line
          className={classes.tick}
          x1={place(end)}
          x2={place(end)}
          y1={top - BAR}
          y2={top + 5 + 15 * line}
        />
        <text className={classes.end} x={x} y={top + 18 + 16 * line} textAnchor="middle">
          {label}
        </text>
      </g>
    );
  });
}
