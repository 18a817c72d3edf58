import { type LintFinding, lintTable, type Table } from '../tolerances/index.ts';
import { findWorseButMilder } from './milder.ts';

/** All that is wrong or doubtful in a table: its rows against each other, then worse readings that get a milder verdict. */
export function lookThrough(table: Table): LintFinding[] {
  return [...lintTable(table), ...findWorseButMilder(table)];
}
