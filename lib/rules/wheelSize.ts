import {
  matchRowsFor,
  type PartFacts,
  type Row,
  rowsFor,
  type Table,
  tableApplies,
} from '../tolerances/index.ts';
import { parseDesignation } from '../wheel/index.ts';
import type { Evidence } from './evidence.ts';
import type { Missing } from './finding.ts';

/** Nominal diameter code in a size designation; undefined where it is not understood or names none. */
export function diameterCodeOf(designation: string): number | undefined {
  const size = parseDesignation(designation);
  return size.ok ? size.value.diameterCode : undefined;
}

/** The table as if it spoke of every size. */
function ofEverySize(table: Table): Table {
  const { diameterCodes: _, ...scope } = table.scope;
  const rows = table.rows.map((row) => {
    if (!('diameterCodes' in row)) return row;
    const { diameterCodes: _size, ...rest } = row;
    return rest as Row;
  });
  return { ...table, scope, rows };
}

const OF_PARTS = ['limit', 'defect', 'no rework', 'test', 'age', 'evidence'] as const;

function why(designation: string): string {
  if (designation.trim() === '') return 'No size designation is recorded';
  return parseDesignation(designation).ok
    ? `The size designation "${designation}" names no rim diameter`
    : `The size designation "${designation}" is not understood`;
}

/** What a size that is not known leaves open for one part: rows that would speak of it on a wheel of their size. */
export function sizeMissing(
  { wheel }: Pick<Evidence, 'wheel'>,
  tables: readonly Table[],
  part: PartFacts,
  on: string,
): Missing[] {
  if (part.diameterCode !== undefined) return [];
  const open = tables.filter((table) => {
    const any = ofEverySize(table);
    if (!tableApplies(any, part, on)) return false;
    const count = (one: Table) =>
      OF_PARTS.reduce((sum, type) => sum + rowsFor([one], type, part, on).length, 0);
    return count(any) > count(table);
  });
  if (open.length === 0) return [];
  const titles = open.map((table) => `“${table.title}”`).join(', ');
  const text = `${why(wheel.designation)}, and rows of ${titles} depend on it. Write it as stamped, such as 25-22.00/3.0.`;
  return [{ what: 'record', text }];
}

/** Reasons against the set going together: rows that say which parts may, for sizes only, while the size is not known. */
export function sizeAgainstFit({ wheel, decidedAt }: Evidence, tables: readonly Table[]): string[] {
  const facts = {
    construction: wheel.construction,
    diameterCode: diameterCodeOf(wheel.designation),
    on: decidedAt.slice(0, 10),
  };
  if (facts.diameterCode !== undefined) return [];
  const open = tables.some(
    (table) => matchRowsFor([ofEverySize(table)], facts).length > matchRowsFor([table], facts).length,
  );
  return open ? [`${why(wheel.designation)}, and which parts may go together depends on it by a table.`] : [];
}
