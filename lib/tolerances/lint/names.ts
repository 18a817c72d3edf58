import { ofType } from '../ofType.ts';
import type { Table } from '../table.ts';
import type { LintFinding } from './finding.ts';

/** A maker as written somewhere in the table. */
interface Maker {
  readonly name: string;
  readonly field: string;
  /** The row it is written in; none for one of the scope. */
  readonly rows: readonly string[];
}

/** A name of the scope that looks like several. */
function severalInOne(table: Table): LintFinding[] {
  const found = (what: string, list: readonly string[], field: string) =>
    list.flatMap((name, index): LintFinding[] =>
      /[,;]/.test(name)
        ? [
            {
              lint: 'name',
              severity: 'warning',
              rows: [],
              field: `${field}.${index}`,
              message: `"${name}" is taken for one ${what}; a part of only one of the names is not meant by it`,
              wayOut: `Give each ${what} an entry of its own.`,
            },
          ]
        : [],
    );
  return [
    ...found('maker', table.scope.makers, 'scope.makers'),
    ...found('series', table.scope.series, 'scope.series'),
  ];
}

/** Makers of pairs, each with its series. */
function madeInPairs(table: Table): (Maker & { readonly series: string })[] {
  return ofType(table, 'match').flatMap(({ row, index }) =>
    row.pairs.flatMap((pair, at) =>
      pair.map(({ maker, series }, end) => ({
        name: maker,
        series,
        rows: [row.row],
        field: `rows.${index}.pairs.${at}.${end}.maker`,
      })),
    ),
  );
}

/** A maker of a pair that looks like a maker with a series: such a pair is met by no part. */
function seriesInMaker(table: Table): LintFinding[] {
  const told = new Set<string>();
  return madeInPairs(table).flatMap(({ name, series, rows, field }): LintFinding[] => {
    const key = JSON.stringify([rows, name]);
    if (series !== '' || !/[/|]/.test(name) || told.has(key)) return [];
    told.add(key);
    return [
      {
        lint: 'name',
        severity: 'warning',
        rows,
        field,
        message: `"${name}" is taken for a maker, of any series; if a part of it is the series, the pair is met by no part`,
        wayOut: 'Give maker and series apart; in a cell, write maker | series.',
      },
    ];
  });
}

/** The same for names that differ only in capitals or white space. */
function likeness(name: string): string {
  return name.toLowerCase().replace(/\s/g, '');
}

/** Makers that differ only in capitals or white space; each spelling is told once. */
function spelledOtherwise(table: Table): LintFinding[] {
  const inScope = table.scope.makers.map(
    (name, index): Maker => ({ name, field: `scope.makers.${index}`, rows: [] }),
  );
  const firsts = new Map<string, Maker>();
  const told = new Set<string>();
  return [...inScope, ...madeInPairs(table)].flatMap(({ name, field, rows }): LintFinding[] => {
    const first = firsts.get(likeness(name));
    if (first === undefined) firsts.set(likeness(name), { name, field, rows });
    if (first === undefined || first.name === name || told.has(name)) return [];
    told.add(name);
    return [
      {
        lint: 'name',
        severity: 'warning',
        rows: [...new Set([...first.rows, ...rows])],
        field,
        message: `"${name}" and "${first.name}" differ only in capitals or white space`,
        wayOut: 'Write a maker in the same way everywhere, as it is noted for the parts.',
      },
    ];
  });
}

/** Names of makers and series that silently match nothing. */
export function names(table: Table): LintFinding[] {
  return [...severalInOne(table), ...seriesInMaker(table), ...spelledOtherwise(table)];
}
