import type { Plot } from './Chart.tsx';

/** The rate of a group with its interval. */
interface GroupPoint {
  readonly group: string;
  readonly finds: number;
  readonly inspected: number;
  readonly rate: { readonly value: number; readonly interval: readonly [number, number] };
  readonly few: boolean;
}

const ROW_PX = 46;

/** Rates one under the other: a dot and the bar of its interval, open where it rests on few, with its counts beside. */
export function ratesChart(plot: Plot, widthPx: number, groups: readonly GroupPoint[]): Element {
  const data = groups.map(({ rate, ...rest }) => ({
    ...rest,
    value: rate.value,
    low: rate.interval[0],
    high: rate.interval[1],
    words: `${rest.group}: ${rest.finds} in ${rest.inspected}`,
  }));
  const place = { y: 'group', x: 'value' } as const;
  return plot.plot({
    width: widthPx,
    height: data.length * ROW_PX + 76,
    marginLeft: 16,
    marginRight: 16,
    marginTop: 14,
    marginBottom: 46,
    x: {
      label: 'Finds per part looked at',
      labelAnchor: 'center',
      labelOffset: 36,
      labelArrow: 'none',
      zero: true,
      nice: true,
      grid: true,
      ticks: 6,
    },
    y: { domain: data.map(({ group }) => group), axis: null, padding: 0.7 },
    marks: [
      plot.frame({ stroke: 'currentColor', strokeOpacity: 0.3 }),
      plot.ruleY(data, { y: 'group', x1: 'low', x2: 'high', stroke: 'currentColor', strokeWidth: 3, dy: 8 }),
      plot.dot(
        data.filter(({ few }) => !few),
        { ...place, r: 6, fill: 'currentColor', dy: 8 },
      ),
      plot.dot(
        data.filter(({ few }) => few),
        { ...place, r: 6, fill: 'var(--plot-background)', stroke: 'currentColor', strokeWidth: 2, dy: 8 },
      ),
      plot.text(data, {
        y: 'group',
        text: 'words',
        frameAnchor: 'left',
        textAnchor: 'start',
        dx: 8,
        dy: -10,
        fontWeight: 600,
        fill: 'currentColor',
        stroke: 'var(--plot-background)',
        strokeWidth: 4,
      }),
    ],
    r: { type: 'identity' },
  });
}
