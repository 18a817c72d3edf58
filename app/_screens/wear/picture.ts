import {
  bandToward,
  edgeAt,
  type LimitEnd,
  lineAt,
  timeText,
  type Wear,
  worseWay,
} from '../../../lib/history/index.ts';
import { showNumber } from '../../../lib/units/index.ts';
import type { LengthScale } from '../../_plots/scale.ts';
import type { BandPoint, LimitLine, WearPicture } from '../../_plots/wearChart.ts';

const STEPS = 48;
/** A limit later than so many times the time measured so far is told in words and left out of the picture. Own choice. */
const AHEAD_MOST = 5;
/** What is drawn ahead of the last reading where nothing is reached, as a share of the time measured so far. */
const AHEAD_ELSE = 0.6;
const LEAST_SPAN = { hours: 3000, days: 365 } as const;
const DAY_MS = 86_400_000;

/** From the first reading to a little beyond where the limit is reached. */
function stretchOf({ series, trend }: Wear): readonly [from: number, to: number] {
  const times = series.points.map(({ x }) => x);
  const [first, last] = [Math.min(...times), Math.max(...times)];
  const span = Math.max(last - first, LEAST_SPAN[series.clock]);
  const reached = trend.reach.state === 'reaches' ? trend.reach.x : null;
  if (reached === null || reached - last > AHEAD_MOST * span) return [first, last + AHEAD_ELSE * span];
  return [first, Math.max(reached + 0.08 * (reached - first), last + 0.1 * span)];
}

/** The side toward which the band's edge counts; both where both ways are worse. */
function sides({ series }: Wear): readonly (1 | -1)[] {
  const worse = worseWay(series);
  return worse === null ? [-1, 1] : [worse];
}

function bandOf(wear: Wear, scale: LengthScale, timeOf: (x: number) => number | Date): BandPoint[] {
  const { line, readingU } = wear.trend;
  if (line === null) return [];
  const [first, to] = stretchOf(wear);
  const counted = wear.series.points.filter(({ inspection }) => wear.trend.counted.includes(inspection));
  // The line says nothing of what it does not rest on.
  const from = Math.max(first, Math.min(...counted.map(({ x }) => x)));
  const whole = { ...line, n: 0, unitVariance: 1, freedom: null };
  const ends = [-1, 1] as const;
  return Array.from({ length: STEPS + 1 }, (_, i) => {
    const x = from + ((to - from) * i) / STEPS;
    const [low = 0, high = 0] = ends.map((worse) => edgeAt(bandToward({ worse, u: 0 }, line, readingU), x));
    return { x: timeOf(x), y: scale.of(lineAt(whole, x).value), low: scale.of(low), high: scale.of(high) };
  });
}

function limitLines(ends: readonly LimitEnd[], scale: LengthScale): LimitLine[] {
  const value = (mm: number) => `${showNumber(scale.of(mm), scale.decimals - 1)} ${scale.unit}`;
  return ends.flatMap(({ value: keep, repair, rule }): LimitLine[] => {
    const label = rule.source.kind === 'demonstration' ? ', demonstration' : '';
    return [
      { y: scale.of(keep), words: `keep to ${value(keep)}${label}`, keep: true },
      ...(repair === null || repair === keep
        ? []
        : [{ y: scale.of(repair), words: `repair to ${value(repair)}${label}`, keep: false }]),
    ];
  });
}

/** What the picture of a trend shows, in the unit of the scale. */
export function pictureOf(wear: Wear, scale: LengthScale): WearPicture {
  const { series, trend, ends } = wear;
  const { reach } = trend;
  const timeOf = (x: number) => (series.clock === 'hours' ? x : new Date(x * DAY_MS));
  const [, until] = stretchOf(wear);
  return {
    dots: series.points.map((point) => ({
      x: timeOf(point.x),
      y: scale.of(point.valueMm),
      low: scale.of(point.valueMm - 2 * point.uMm),
      high: scale.of(point.valueMm + 2 * point.uMm),
      href: inspectionAddress(point),
      title: `${point.on}: ${showNumber(scale.of(point.valueMm), scale.decimals)} ${scale.unit}`,
      sign: trend.counted.includes(point.inspection) ? 'counted' : 'left out',
    })),
    band: bandOf(wear, scale, timeOf),
    limits: limitLines(
      ends.filter(({ worse }) => sides(wear).includes(worse)),
      scale,
    ),
    crossing:
      reach.state === 'reaches' && reach.x <= until
        ? {
            x: timeOf(reach.x),
            y: scale.of(reach.end.value),
            words: timeText(wear, reach.x),
            low: reach.end.worse === 1,
          }
        : null,
    xLabel: series.clock === 'hours' ? 'Hours on duty of the part' : 'Day (hours on duty not known)',
    yLabel: `Value, ${scale.unit}`,
  };
}

/** The page of the inspection of a reading. */
export function inspectionAddress({
  wheel,
  inspection,
}: {
  readonly wheel: string;
  readonly inspection: string;
}): string {
  return `/wheel?id=${wheel}&inspection=${inspection}`;
}
