import { FEW_LOOKS, type GroupRate, type ZoneCount } from '../../../lib/history/index.ts';
import type { TableData } from '../../_plots/table.ts';

/** Counts by zone and clock hour as a table. */
export function countsTable(counts: readonly ZoneCount[]): TableData {
  const figure = (label: string) => ({ label, decimals: 0 });
  return {
    caption: 'Finds by zone and clock hour; a half hour counts with the hour before it',
    columns: [
      { label: 'Part and zone' },
      figure('Looks'),
      figure('Finds'),
      ...[12, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11].map((hour) => figure(`${hour}`)),
      figure('No clock'),
    ],
    rows: counts.map(({ slot, zone, seen, count, byHour, noClock }) => [
      `${slot}, ${zone}`,
      seen,
      count,
      byHour[11] ?? 0,
      ...byHour.slice(0, 11),
      noClock,
    ]),
    file: 'where-counts',
  };
}

/** Rates of groups as a table, with their exact intervals. */
export function ratesTable(rates: readonly GroupRate[], group: string): TableData {
  return {
    caption: `Finds per part looked at by ${group.toLowerCase()}, with exact 95 % intervals: Poisson (Garwood 1936) of the rate, binomial (Clopper & Pearson 1934) of the share`,
    columns: [
      { label: group },
      { label: 'Parts looked at', decimals: 0 },
      { label: 'Finds', decimals: 0 },
      { label: 'Per part', decimals: 3 },
      { label: 'from', decimals: 3 },
      { label: 'to', decimals: 3 },
      { label: 'Parts with a find, %', decimals: 1 },
      { label: 'from, %', decimals: 1 },
      { label: 'to, %', decimals: 1 },
      { label: 'Note' },
    ],
    rows: rates.map(({ group: name, inspected, finds, rate, share, few }) => [
      name,
      inspected,
      finds,
      rate.value,
      ...rate.interval,
      100 * share.value,
      ...share.interval.map((one) => 100 * one),
      few ? `fewer than ${FEW_LOOKS} looks: says little` : '',
    ]),
    file: `where-by-${group.toLowerCase()}`,
  };
}
