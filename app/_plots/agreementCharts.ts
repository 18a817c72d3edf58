import type { Plot } from './Chart.tsx';

/** A pair as a point: the mean of both readings and their difference, in the unit shown. */
export interface PairPoint {
  readonly mean: number;
  readonly difference: number;
  readonly inspector: string;
}

/** Lines across a plot of differences, in the unit shown. */
export interface DifferenceLines {
  readonly bias: number;
  readonly lower: number;
  readonly upper: number;
  /** Intervals of the three, low and high. */
  readonly intervals: readonly (readonly [number, number])[];
}

/** The signs by which inspectors are told apart without colour. */
const SIGNS = ['circle', 'triangle', 'square', 'diamond', 'plus', 'times', 'star'] as const;
const HEIGHT_PX = 340;
const MARGINS = { marginLeft: 70, marginRight: 56, marginTop: 24, marginBottom: 46 } as const;

/** Bias and limits with their words, and their intervals side by side in the room at the right, for those of few pairs overlap. */
function linesAcross(plot: Plot, lines: DifferenceLines, rightmost: number, roomX: number) {
  const across = [
    { at: lines.bias, words: 'bias' },
    { at: lines.lower, words: 'limit' },
    { at: lines.upper, words: 'limit' },
  ];
  const brackets = lines.intervals.map((one, i) => ({
    x: rightmost + roomX * (0.5 + 0.2 * i),
    low: one[0],
    high: one[1],
  }));
  return [
    plot.ruleY(across.slice(0, 1), { y: 'at', stroke: 'currentColor', strokeWidth: 1.5 }),
    plot.ruleY(across.slice(1), {
      y: 'at',
      stroke: 'currentColor',
      strokeWidth: 1.5,
      strokeDasharray: '6 4',
    }),
    plot.ruleX(brackets, { x: 'x', y1: 'low', y2: 'high', stroke: 'currentColor', strokeWidth: 4 }),
    plot.text(across, {
      y: 'at',
      text: 'words',
      frameAnchor: 'right',
      textAnchor: 'start',
      dx: 6,
      fill: 'currentColor',
    }),
  ];
}

/**
 * Differences against means: every pair with its inspector’s sign, the bias as a solid line, the limits of agreement
 * dashed, and their intervals as brackets at the right edge. Without `lines` there are too few pairs for them.
 */
export function differencesChart(
  plot: Plot,
  widthPx: number,
  points: readonly PairPoint[],
  inspectors: readonly string[],
  lines: DifferenceLines | null,
  unit: string,
): Element {
  const data = [...points];
  const [low, high] = [Math.min(...data.map((one) => one.mean)), Math.max(...data.map((one) => one.mean))];
  const roomX = Math.max(0.12 * (high - low), 0.01 * Math.abs(high), 1e-6);
  return plot.plot({
    ...MARGINS,
    width: widthPx,
    height: HEIGHT_PX,
    x: {
      domain: [low - roomX, high + roomX],
      label: `Mean of both readings, ${unit}`,
      labelAnchor: 'center',
      labelArrow: 'none',
      ticks: 6,
    },
    y: {
      label: `Inspector minus second, ${unit}`,
      labelAnchor: 'center',
      labelArrow: 'none',
      nice: true,
      grid: true,
      ticks: 6,
    },
    symbol: {
      domain: [...inspectors],
      range: inspectors.map((_, i) => SIGNS[i % SIGNS.length] ?? 'circle'),
      legend: true,
    },
    marks: [
      plot.frame({ stroke: 'currentColor', strokeOpacity: 0.3 }),
      plot.ruleY([0], { stroke: 'currentColor', strokeOpacity: 0.4 }),
      ...(lines === null ? [] : linesAcross(plot, lines, high, roomX)),
      plot.dot(data, {
        x: 'mean',
        y: 'difference',
        symbol: 'inspector',
        r: 5,
        stroke: 'currentColor',
        strokeWidth: 1.5,
      }),
    ],
  });
}

/** A pair’s normalised error and when its review was concluded. */
export interface ErrorPoint {
  readonly at: Date;
  readonly error: number;
}

/** Normalised errors in time with the bounds of 1; beyond them filled diamonds, within them rings. */
export function errorsChart(plot: Plot, widthPx: number, points: readonly ErrorPoint[]): Element {
  const data = [...points];
  const isBeyond = (one: ErrorPoint) => Math.abs(one.error) > 1;
  const largest = Math.max(1.5, ...data.map((one) => Math.abs(one.error)));
  return plot.plot({
    ...MARGINS,
    width: widthPx,
    height: 260,
    x: {
      type: 'utc',
      label: 'Review concluded',
      labelAnchor: 'center',
      labelArrow: 'none',
      ticks: 5,
      inset: 12,
    },
    y: {
      domain: [-largest, largest],
      label: 'Normalised error',
      labelAnchor: 'center',
      labelArrow: 'none',
      nice: true,
      grid: true,
      ticks: 6,
    },
    marks: [
      plot.frame({ stroke: 'currentColor', strokeOpacity: 0.3 }),
      plot.ruleY([0], { stroke: 'currentColor', strokeOpacity: 0.4 }),
      plot.ruleY([-1, 1], { stroke: 'currentColor', strokeWidth: 1.5, strokeDasharray: '6 4' }),
      plot.text([-1, 1], {
        y: (one: number) => one,
        text: (one: number) => (one < 0 ? '−1' : '+1'),
        frameAnchor: 'right',
        textAnchor: 'start',
        dx: 6,
        fill: 'currentColor',
      }),
      plot.dot(
        data.filter((one) => !isBeyond(one)),
        { x: 'at', y: 'error', r: 4, stroke: 'currentColor', strokeWidth: 1.5 },
      ),
      plot.dot(data.filter(isBeyond), { x: 'at', y: 'error', r: 6, symbol: 'diamond', fill: 'currentColor' }),
    ],
  });
}

/** How often a first call met a second one. */
export interface CallCell {
  readonly first: string;
  readonly second: string;
  readonly count: number;
}

/** Calls as a square of counts, first calls down and second across; the same calls lie in the framed diagonal. */
export function callsChart(
  plot: Plot,
  widthPx: number,
  cells: readonly CallCell[],
  calls: readonly string[],
): Element {
  const data = [...cells];
  const most = Math.max(1, ...data.map((one) => one.count));
  const sidePx = Math.min(widthPx, 460);
  const axis = {
    domain: [...calls],
    labelArrow: 'none' as const,
    labelAnchor: 'center' as const,
    tickSize: 0,
  };
  const place = { x: 'second', y: 'first' } as const;
  return plot.plot({
    ...MARGINS,
    marginLeft: 84,
    marginRight: 8,
    width: sidePx,
    height: sidePx - 20,
    x: { ...axis, label: 'Second person’s call' },
    y: { ...axis, label: 'Inspector’s call' },
    marks: [
      plot.cell(data, {
        ...place,
        fill: 'currentColor',
        fillOpacity: (one: CallCell) => 0.3 * (one.count / most),
        stroke: 'currentColor',
        strokeWidth: (one: CallCell) => (one.first === one.second ? 3 : 0.5),
        inset: 2,
      }),
      plot.text(data, {
        ...place,
        text: (one: CallCell) => `${one.count}`,
        fontSize: 18,
        fontWeight: 600,
        fill: 'currentColor',
      }),
    ],
    opacity: { type: 'identity' },
  });
}
