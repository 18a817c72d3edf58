import { canonicalJson, sha256Hex } from '../base/index.ts';
import type { ComponentKind, ConstructionId, ZoneId } from '../wheel/index.ts';
import type { MatchRow, Row, Table } from './table.ts';

/** What a row is matched against. */
export interface PartFacts {
  readonly componentKind: ComponentKind;
  readonly maker: string;
  readonly series: string;
  readonly construction: ConstructionId;
  /** Undefined when the size designation is not understood. */
  readonly diameterCode: number | undefined;
}

/** A wheel and the day it is judged (ISO date), as far as a table asks. */
interface WheelFacts extends Pick<PartFacts, 'construction' | 'diameterCode'> {
  readonly on: string;
}

/** A row together with the table it stands in. */
export interface RowInTable<R extends Row = Row> {
  readonly table: Table;
  readonly row: R;
}

function named(list: readonly string[], name: string): boolean {
  return list.length === 0 || list.some((one) => one.toLowerCase() === name.trim().toLowerCase());
}

/** Whether a table speaks of this part at all on the day `on` (ISO date). */
export function tableApplies(table: Table, part: PartFacts, on: string): boolean {
  const { makers, series, components } = table.scope;
  return (
    appliesToWheel(table, { ...part, on }) &&
    (components === undefined || components.includes(part.componentKind)) &&
    named(makers, part.maker) &&
    named(series, part.series)
  );
}

/** Whether a table is in effect on the day, and its scope takes in the construction and the size of the wheel. */
function appliesToWheel({ effectiveFrom, effectiveUntil, scope }: Table, wheel: WheelFacts): boolean {
  return (
    effectiveFrom <= wheel.on &&
    (effectiveUntil === undefined || wheel.on <= effectiveUntil) &&
    (scope.constructions.length === 0 || scope.constructions.includes(wheel.construction)) &&
    codeWithin(scope.diameterCodes, wheel.diameterCode)
  );
}

function codeWithin(
  range: { readonly min: number; readonly max: number } | undefined,
  code: number | undefined,
): boolean {
  const known = code ?? Number.NaN;
  return range === undefined || (known >= range.min && known <= range.max);
}

/**
 * Rows that say which parts may go together on a wheel, in the order of the tables. Such a row names makers of its
 * own, so that the makers, series and components of its table's scope do not narrow it.
 */
export function matchRowsFor(tables: readonly Table[], wheel: WheelFacts): RowInTable<MatchRow>[] {
  return tables
    .filter((table) => appliesToWheel(table, wheel))
    .flatMap((table) =>
      table.rows
        .filter((row): row is MatchRow => row.type === 'match')
        .filter((row) => codeWithin(row.diameterCodes, wheel.diameterCode))
        .map((row) => ({ table, row })),
    );
}

/** Whether a row speaks of this part, and of this zone where one is given. */
function rowApplies(row: Row, part: PartFacts, zone?: ZoneId): boolean {
  if (!codeWithin(row.diameterCodes, part.diameterCode)) return false;
  if (row.type === 'match') return false;
  return (
    (row.components === undefined || row.components.includes(part.componentKind)) &&
    (zone === undefined || row.zones === undefined || row.zones.includes(zone))
  );
}

/** All rows of one type that speak of this part, in the order of the tables and of their rows. */
export function rowsFor<T extends Row['type']>(
  tables: readonly Table[],
  type: T,
  part: PartFacts,
  on: string,
  zone?: ZoneId,
): RowInTable<Extract<Row, { type: T }>>[] {
  return tables
    .filter((table) => tableApplies(table, part, on))
    .flatMap((table) =>
      table.rows
        .filter((row): row is Extract<Row, { type: T }> => row.type === type)
        .filter((row) => rowApplies(row, part, zone))
        .map((row) => ({ table, row })),
    );
}

/** SHA-256 of the canonical JSON of a table: its identity in a verdict, whatever its file was called. */
export function tableHash(table: Table): string {
  return sha256Hex(canonicalJson(table));
}

/** Whether any row of the table is marked as demonstration. */
export function isDemonstration(table: Table): boolean {
  return table.rows.some((row) => row.source.kind === 'demonstration');
}
