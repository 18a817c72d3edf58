import type { Table } from '../table.ts';
import { defectPairs } from './defects.ts';
import type { LintFinding } from './finding.ts';
import { gaps } from './gaps.ts';
import { limitPairs, mixedUnits } from './limits.ts';
import { matchPairs } from './matches.ts';
import { reachesNothing, sources } from './rows.ts';

export type { Lint, LintFinding } from './finding.ts';

/**
 * Looks through a table that `parseTable` accepted for what is wrong or doubtful about it, in the order of the rows.
 * The search for worse readings with a milder verdict needs the engine and stands beside it, in `lib/rules`.
 */
export function lintTable(table: Table): LintFinding[] {
  const found = [
    ...reachesNothing(table),
    ...limitPairs(table),
    ...defectPairs(table),
    ...matchPairs(table),
    ...gaps(table),
    ...mixedUnits(table),
    ...sources(table),
  ];
  const places = new Map(table.rows.map(({ row }, index) => [row, index]));
  const firstRow = ({ rows }: LintFinding) => Math.min(...rows.map((row) => places.get(row) ?? 0));
  return found.sort((a, b) => firstRow(a) - firstRow(b));
}
