import type { Table } from '../table.ts';
import { defectPairs } from './defects.ts';
import type { LintFinding } from './finding.ts';
import { gaps } from './gaps.ts';
import { limitPairs } from './limits.ts';
import { matchPairs } from './matches.ts';
import { names } from './names.ts';
import { tellPairs } from './pairing.ts';
import { reachesNothing, sources } from './rows.ts';
import { mixedUnits } from './units.ts';

export type { Lint, LintFinding } from './finding.ts';

/** The findings in the order of the first row that each is about; one about no row stands before all. */
function inOrder(found: readonly LintFinding[], table: Table): LintFinding[] {
  const places = new Map(table.rows.map(({ row }, index) => [row, index]));
  return found
    .map((finding) => ({ finding, at: places.get(finding.rows[0] ?? '') ?? -1 }))
    .sort((a, b) => a.at - b.at)
    .map(({ finding }) => finding);
}

/**
 * Looks through a table that `parseTable` accepted for what is wrong or doubtful about it, in the order of the rows. Of
 * findings about two rows the errors and the first 500 are told; a last finding says how many more there are.
 * The search for worse readings with a milder verdict needs the engine and stands beside it, in `lib/rules`.
 */
export function lintTable(table: Table): LintFinding[] {
  const pairs = tellPairs((telling) => {
    limitPairs(table, telling);
    defectPairs(table, telling);
    matchPairs(table, telling);
    mixedUnits(table, telling);
  });
  const found = [...reachesNothing(table), ...pairs.told, ...gaps(table), ...names(table), ...sources(table)];
  return [...inOrder(found, table), ...(pairs.more === null ? [] : [pairs.more])];
}
