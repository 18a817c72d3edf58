import type { Plot } from './Chart.tsx';

/** A reading of a study in the unit shown. */
export interface StudyPoint {
  readonly person: string;
  readonly part: string;
  readonly trial: number;
  readonly value: number;
}

/** The range of one person’s readings of one part in the unit shown. */
export interface RangePoint {
  readonly person: string;
  readonly part: string;
  readonly range: number;
}

const FACET_PX = 130;
const MARGINS = { marginLeft: 70, marginRight: 44, marginTop: 26, marginBottom: 42 } as const;

/** Everybody in a row of their own, so that no colour is needed to tell them apart; the name stands over the row. */
function names(plot: Plot, people: readonly string[]) {
  return plot.text(people, {
    fy: (one: string) => one,
    text: (one: string) => one,
    frameAnchor: 'top-left',
    dy: -15,
    fontWeight: 600,
    fill: 'currentColor',
  });
}

function rowsOf(
  people: readonly string[],
  parts: readonly string[],
  widthPx: number,
  unit: string,
  y: string,
) {
  return {
    ...MARGINS,
    width: widthPx,
    height: people.length * FACET_PX + MARGINS.marginBottom + MARGINS.marginTop,
    x: {
      type: 'point' as const,
      domain: [...parts],
      label: 'Part',
      labelAnchor: 'center' as const,
      labelArrow: 'none' as const,
    },
    y: {
      label: `${y}, ${unit}`,
      grid: true,
      nice: true,
      ticks: 4,
      labelArrow: 'none' as const,
      labelAnchor: 'center' as const,
    },
    fy: { domain: [...people], axis: null, padding: 0.28 },
    r: { type: 'identity' as const },
  };
}

/** Readings by part, a row for each person: single readings as rings, the line through their means. */
export function readingsChart(
  plot: Plot,
  widthPx: number,
  points: readonly StudyPoint[],
  people: readonly string[],
  parts: readonly string[],
  unit: string,
): Element {
  const data = [...points];
  return plot.plot({
    ...rowsOf(people, parts, widthPx, unit, 'Reading'),
    marks: [
      plot.frame({ stroke: 'currentColor', strokeOpacity: 0.3 }),
      plot.line(
        data,
        plot.groupX(
          { y: 'mean' },
          { x: 'part', y: 'value', fy: 'person', z: 'person', stroke: 'currentColor' },
        ),
      ),
      plot.dot(data, { x: 'part', y: 'value', fy: 'person', r: 4, stroke: 'currentColor', strokeWidth: 1.5 }),
      names(plot, people),
    ],
  });
}

/** Ranges by part, a row for each person, with the mean range and the limit that chance alone would keep. */
export function rangesChart(
  plot: Plot,
  widthPx: number,
  points: readonly RangePoint[],
  limits: { readonly mean: number; readonly upper: number },
  people: readonly string[],
  parts: readonly string[],
  unit: string,
): Element {
  const data = [...points];
  const usual = rowsOf(people, parts, widthPx, unit, 'Range');
  return plot.plot({
    ...usual,
    y: { ...usual.y, zero: true },
    marks: [
      plot.frame({ stroke: 'currentColor', strokeOpacity: 0.3 }),
      plot.ruleY([limits.mean], { stroke: 'currentColor' }),
      plot.ruleY([limits.upper], { stroke: 'currentColor', strokeDasharray: '6 4', strokeWidth: 1.5 }),
      plot.text(
        [
          { at: limits.mean, words: 'mean' },
          { at: limits.upper, words: 'limit' },
        ],
        { y: 'at', text: 'words', frameAnchor: 'right', textAnchor: 'start', dx: 5, fill: 'currentColor' },
      ),
      plot.line(data, { x: 'part', y: 'range', fy: 'person', z: 'person', stroke: 'currentColor' }),
      plot.dot(data, {
        x: 'part',
        y: 'range',
        fy: 'person',
        r: (one: RangePoint) => (one.range > limits.upper ? 7 : 4),
        symbol: (one: RangePoint) => (one.range > limits.upper ? 'diamond' : 'circle'),
        fill: 'currentColor',
      }),
      names(plot, people),
    ],
  });
}

/** One component of the variation by one way of computing. */
export interface ComponentBar {
  readonly component: string;
  readonly way: string;
  /** Percent of the study’s variation. */
  readonly percent: number;
}

/** Components of variation as bars: filled for the first way, outlined for the second, each with its figure. */
export function componentsChart(plot: Plot, widthPx: number, bars: readonly ComponentBar[]): Element {
  const data = [...bars];
  const components = [...new Set(data.map((one) => one.component))];
  const ways = [...new Set(data.map((one) => one.way))];
  const shared = { x: 'percent', y: 'way', fy: 'component' } as const;
  return plot.plot({
    ...MARGINS,
    marginLeft: 76,
    marginRight: 54,
    width: widthPx,
    height: components.length * (24 * ways.length + 30) + MARGINS.marginBottom + MARGINS.marginTop,
    x: {
      domain: [0, 100],
      label: 'Share of the study’s variation, %',
      labelAnchor: 'center',
      labelArrow: 'none',
      grid: true,
      ticks: 5,
    },
    y: { domain: ways, label: null, tickSize: 0 },
    fy: { domain: components, axis: null, padding: 0.35 },
    marks: [
      plot.barX(data, {
        ...shared,
        fill: (one: ComponentBar) => (one.way === ways[0] ? 'currentColor' : 'none'),
        stroke: 'currentColor',
        strokeWidth: 1.5,
        insetTop: 1,
        insetBottom: 1,
      }),
      plot.text(data, {
        ...shared,
        text: (one: ComponentBar) => `${Math.round(one.percent)} %`,
        textAnchor: 'start',
        dx: 5,
        fill: 'currentColor',
      }),
      plot.text(components, {
        fy: (one: string) => one,
        text: (one: string) => one,
        frameAnchor: 'top-left',
        dx: -68,
        dy: -14,
        fontWeight: 600,
        fill: 'currentColor',
      }),
      plot.ruleX([0], { stroke: 'currentColor' }),
    ],
  });
}
