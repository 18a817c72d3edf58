'use client';
import { useMemo } from 'react';
import {
  bundledTables,
  type Table,
  type TableOnFile,
  type TablesOnFile,
  tableHash,
  tablesInForce,
} from '../../../lib/tolerances/index.ts';
import { now } from '../../_client/device.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';

export type Standing = 'with the program' | TableOnFile['state'];

/** A table as the screens show it, whether it comes with the program or from the record. */
export interface ShownTable {
  /** Names it in the address of a page. */
  readonly key: string;
  readonly table: Table;
  readonly hash: string;
  readonly standing: Standing;
  /** Whether the site names it among its limits in force. */
  readonly named: boolean;
  /** Whether verdicts given now rest on it. */
  readonly used: boolean;
  /** What the record says of it; null for one that comes with the program. */
  readonly onFile: TableOnFile | null;
}

const PROGRAM = 'program:';

function shownTables(names: readonly string[], onFile: TablesOnFile, at: string): ShownTable[] {
  const used = new Set(tablesInForce(names, onFile.tables, at).tables);
  return [
    ...bundledTables.map(
      (table): ShownTable => ({
        key: `${PROGRAM}${table.table}`,
        table,
        hash: tableHash(table),
        standing: 'with the program',
        named: names.includes(table.table),
        used: used.has(table),
        onFile: null,
      }),
    ),
    ...onFile.tables.map(
      (one): ShownTable => ({
        key: one.id,
        table: one.table,
        hash: one.hash,
        standing: one.state,
        named: names.includes(one.table.table),
        used: used.has(one.table),
        onFile: one,
      }),
    ),
  ];
}

/** Every table of the site: those that come with the program, then those in the record. */
export function useShownTables(): readonly ShownTable[] {
  const { tables, siteState } = useWorkplace();
  return useMemo(() => shownTables(siteState?.tables ?? [], tables, now()), [tables, siteState]);
}

/** The tables that verdicts given now rest on. */
export function useTablesInForce(): readonly Table[] {
  const { tables, siteState } = useWorkplace();
  return useMemo(
    () => tablesInForce(siteState?.tables ?? [], tables.tables, now()).tables,
    [tables, siteState],
  );
}

/** Names among the limits in force of which no edition counts now, so that every part is held. */
export function useWithout(): readonly string[] {
  const { tables, siteState } = useWorkplace();
  return useMemo(
    () => tablesInForce(siteState?.tables ?? [], tables.tables, now()).without,
    [tables, siteState],
  );
}

/** Where a table stands, in a few words. */
export function standingText({ standing, named, used, onFile, table }: ShownTable, at: string): string {
  if (used)
    return standing === 'with the program' ? 'in force; comes with the program' : 'approved, in force';
  switch (standing) {
    case 'with the program':
      return 'comes with the program; not in force here';
    case 'draft':
      return 'draft, waiting for a second person';
    case 'withdrawn':
      return onFile?.approved === null ? 'draft, dropped' : 'withdrawn';
    case 'approved': {
      const day = at.slice(0, 10);
      if (table.effectiveFrom > day) return `approved, from ${table.effectiveFrom}`;
      return table.effectiveUntil !== undefined && table.effectiveUntil < day
        ? `approved, ended on ${table.effectiveUntil}`
        : named
          ? 'approved; superseded by another edition'
          : 'approved; not in force: a lead names it on the page Site';
    }
  }
}
