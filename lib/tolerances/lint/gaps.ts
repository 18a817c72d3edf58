import { characteristicOf } from '../../readings/index.ts';
import { ofType } from '../ofType.ts';
import { codesIn, codesOf, zonedPlacesOfLimit } from '../reach.ts';
import type { LimitRow, Table } from '../table.ts';
import type { LintFinding } from './finding.ts';

/** The limits of one quantity. */
interface Sized {
  /** Of the first of the rows. */
  readonly index: number;
  readonly what: string;
  readonly rows: Set<string>;
  readonly codes: Set<number>;
  /** Whether one of the rows gives a limit whatever the diameter. */
  anySize: boolean;
}

function inWords({ characteristic }: LimitRow, component: string, state: string | null): string {
  const { label } = characteristicOf(characteristic);
  return `${label}${state === null ? '' : ` (${state})`}, ${component}`;
}

/** The limits of every quantity, one for each characteristic, component, zone and state, with their diameters. */
function sizedLimits(table: Table): Iterable<Sized> {
  const groups = new Map<string, Sized>();
  for (const { row, index } of ofType(table, 'limit')) {
    const codes = codesOf(table, row);
    for (const { component, zone, state } of codes.length === 0 ? [] : zonedPlacesOfLimit(table, row)) {
      const key = [row.characteristic, component, zone, state].join();
      const what = inWords(row, component, state);
      const group = groups.get(key) ?? { index, what, rows: new Set(), codes: new Set(), anySize: false };
      group.rows.add(row.row);
      for (const code of codes) group.codes.add(code);
      group.anySize ||= row.diameterCodes === undefined;
      groups.set(key, group);
    }
  }
  return groups.values();
}

function gapIn({ index, what, rows, codes }: Sized): LintFinding[] {
  const between = codesIn({ min: Math.min(...codes), max: Math.max(...codes) });
  const left = between.filter((code) => !codes.has(code));
  if (left.length === 0) return [];
  return [
    {
      lint: 'gap',
      severity: 'warning',
      rows: [...rows],
      field: `rows.${index}.diameterCodes`,
      message: `${what}: no limit for diameter ${left.join(', ')}, though smaller and larger rims have one`,
      wayOut: 'Widen a row, or add one for these diameters; without a limit such a part is held.',
    },
  ];
}

/** Diameter codes between those that the limits of one quantity speak of, and that none of them speaks of. */
export function gaps(table: Table): LintFinding[] {
  const open = [...sizedLimits(table)].filter(({ anySize }) => !anySize);
  const found = open.flatMap(gapIn);
  // The zones of one component often have the same gap; it is told once.
  return [...new Map(found.toReversed().map((one) => [one.message, one])).values()].toReversed();
}
