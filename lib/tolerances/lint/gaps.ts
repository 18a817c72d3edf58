import { characteristicOf } from '../../readings/index.ts';
import { ofType } from '../ofType.ts';
import { codesIn, type Place, placesOfLimit } from '../reach.ts';
import type { LimitRow, Table } from '../table.ts';
import type { LintFinding } from './finding.ts';

/** The limits of one quantity. */
interface Sized {
  /** Of the first of the rows. */
  readonly index: number;
  readonly what: string;
  readonly rows: Set<string>;
  readonly codes: Set<number>;
}

/** One quantity as a word: what is measured, where and in which state, of whatever diameter. */
function quantityKey({ characteristic }: LimitRow, { component, zone, state }: Place): string {
  return [characteristic, component, zone, state].join();
}

function inWords({ characteristic }: LimitRow, { component, state }: Place): string {
  const { label } = characteristicOf(characteristic);
  return `${label}${state === null ? '' : ` (${state})`}, ${component}`;
}

/** The limits of every quantity, with the diameters that they speak of. */
function sizedLimits(table: Table): Map<string, Sized> {
  const groups = new Map<string, Sized>();
  for (const { row, index } of ofType(table, 'limit')) {
    for (const place of placesOfLimit(table, row)) {
      const key = quantityKey(row, place);
      const fresh = { index, what: inWords(row, place), rows: new Set<string>(), codes: new Set<number>() };
      const group = groups.get(key) ?? fresh;
      group.rows.add(row.row);
      group.codes.add(place.diameterCode);
      groups.set(key, group);
    }
  }
  return groups;
}

/** Quantities for which some row gives a limit whatever the diameter. */
function limitedAtAnySize(table: Table): Set<string> {
  const anySize = ofType(table, 'limit').filter(({ row }) => row.diameterCodes === undefined);
  return new Set(
    anySize.flatMap(({ row }) => placesOfLimit(table, row).map((place) => quantityKey(row, place))),
  );
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
  const closed = limitedAtAnySize(table);
  const open = [...sizedLimits(table)].filter(([key]) => !closed.has(key));
  const found = open.flatMap(([, group]) => gapIn(group));
  // The zones of one component often have the same gap; it is told once.
  return found.filter(
    ({ message }, index) => found.findIndex((other) => other.message === message) === index,
  );
}
