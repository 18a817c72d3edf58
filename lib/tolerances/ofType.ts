import type { Row, Table } from './table.ts';

/** A row with its place in the table. */
export interface Indexed<R extends Row = Row> {
  readonly row: R;
  readonly index: number;
}

/** The rows of one type, with their places. */
export function ofType<T extends Row['type']>(table: Table, type: T): Indexed<Extract<Row, { type: T }>>[] {
  return table.rows.flatMap((row, index) =>
    row.type === type ? [{ row: row as Extract<Row, { type: T }>, index }] : [],
  );
}
