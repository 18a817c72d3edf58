import type { Plot } from './Chart.tsx';

/** A reading as a point, in the unit shown; `x` hours or a day. */
export interface WearDot {
  readonly x: number | Date;
  readonly y: number;
  readonly low: number;
  readonly high: number;
  readonly href: string;
  readonly title: string;
  readonly sign: 'counted' | 'left out';
}

/** Line and band at one time. */
export interface BandPoint {
  readonly x: number | Date;
  readonly y: number;
  readonly low: number;
  readonly high: number;
}

/** A limit across the picture. */
export interface LimitLine {
  readonly y: number;
  readonly words: string;
  readonly keep: boolean;
}

/** All that a picture of wear shows. */
export interface WearPicture {
  readonly dots: readonly WearDot[];
  readonly band: readonly BandPoint[];
  readonly limits: readonly LimitLine[];
  /** Where the band reaches its limit, if within the picture. */
  readonly crossing: {
    readonly x: number | Date;
    readonly y: number;
    readonly words: string;
    readonly low: boolean;
  } | null;
  readonly xLabel: string;
  readonly yLabel: string;
}

const MARGINS = { marginLeft: 62, marginRight: 22, marginTop: 26, marginBottom: 52 } as const;
const HEIGHT_PX = 360;
const NARROW_PX = 500;

function limitMarks(plot: Plot, limits: readonly LimitLine[]) {
  const across = [...limits];
  return [
    plot.ruleY(
      across.filter(({ keep }) => keep),
      { y: 'y', stroke: 'currentColor', strokeWidth: 2.5 },
    ),
    plot.ruleY(
      across.filter(({ keep }) => !keep),
      { y: 'y', stroke: 'currentColor', strokeWidth: 1.5, strokeDasharray: '2 4' },
    ),
    plot.text(across, {
      y: 'y',
      text: 'words',
      frameAnchor: 'left',
      textAnchor: 'start',
      lineAnchor: 'bottom',
      dx: 6,
      dy: -4,
      fill: 'currentColor',
      stroke: 'var(--plot-background)',
      strokeWidth: 4,
    }),
  ];
}

function dotMarks(plot: Plot, dots: readonly WearDot[]) {
  const data = [...dots];
  const common = { x: 'x', y: 'y', href: 'href', title: 'title', stroke: 'currentColor' } as const;
  return [
    plot.ruleX(data, { x: 'x', y1: 'low', y2: 'high', stroke: 'currentColor', strokeWidth: 2 }),
    plot.dot(
      data.filter(({ sign }) => sign === 'counted'),
      { ...common, r: 5, fill: 'currentColor' },
    ),
    plot.dot(
      data.filter(({ sign }) => sign === 'left out'),
      { ...common, r: 8, symbol: 'diamond', fill: 'var(--plot-background)', strokeWidth: 2 },
    ),
  ];
}

function crossingMarks(plot: Plot, crossing: WearPicture['crossing'], isLate: boolean) {
  if (crossing === null) return [];
  const here = [crossing];
  return [
    plot.ruleX(here, { x: 'x', stroke: 'currentColor', strokeWidth: 1.5, strokeDasharray: '6 4' }),
    plot.dot(here, { x: 'x', y: 'y', symbol: 'times', r: 8, stroke: 'currentColor', strokeWidth: 3 }),
    plot.text(here, {
      x: 'x',
      text: 'words',
      frameAnchor: crossing.low ? 'bottom' : 'top',
      textAnchor: isLate ? 'end' : 'start',
      dx: isLate ? -6 : 6,
      dy: crossing.low ? -6 : 4,
      lineAnchor: crossing.low ? 'bottom' : 'top',
      fontWeight: 600,
      fill: 'currentColor',
      stroke: 'var(--plot-background)',
      strokeWidth: 4,
    }),
  ];
}

/**
 * Wear in time: readings with bars of ± 2 u, those that the line leaves out as open diamonds; the line, its 95 % band
 * as a shade, keep limits solid, ends of repair dotted, and where the band reaches its limit.
 */
export function wearChart(plot: Plot, widthPx: number, picture: WearPicture): Element {
  const { dots, band, limits, crossing, xLabel, yLabel } = picture;
  const times = [...dots, ...band].map(({ x }) => Number(x));
  const [from, to] = [Math.min(...times), Math.max(...times)];
  const isLate = crossing !== null && Number(crossing.x) - from > (to - from) / 2;
  const narrow = widthPx < NARROW_PX;
  return plot.plot({
    ...MARGINS,
    width: widthPx,
    height: HEIGHT_PX,
    x: {
      label: xLabel,
      labelAnchor: 'center',
      labelArrow: 'none',
      ticks: narrow ? 4 : 7,
      labelOffset: 40,
      inset: 14,
      ...(dots[0]?.x instanceof Date ? { type: 'utc' as const } : { tickFormat: (x: number) => `${x}` }),
    },
    y: { label: yLabel, labelAnchor: 'center', labelArrow: 'none', grid: true, nice: true, ticks: 6 },
    marks: [
      plot.frame({ stroke: 'currentColor', strokeOpacity: 0.3 }),
      plot.areaY([...band], { x: 'x', y1: 'low', y2: 'high', fill: 'currentColor', fillOpacity: 0.13 }),
      plot.line([...band], { x: 'x', y: 'y', stroke: 'currentColor', strokeWidth: 1.5 }),
      ...limitMarks(plot, limits),
      ...crossingMarks(plot, crossing, isLate),
      ...dotMarks(plot, dots),
    ],
    r: { type: 'identity' },
  });
}
