import Papa from 'papaparse';

/** A column of a table of figures; numbers are shown with `decimals` and saved in full. */
export interface Column {
  readonly label: string;
  readonly decimals?: number;
}

export type Cell = string | number | null;

/** Figures of a table, and the name of the file they are saved to. */
export interface TableData {
  readonly caption: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  /** Without ending. */
  readonly file: string;
}

/** The table as CSV with a heading line; text that a spreadsheet would take for a formula is made plain. */
export function csvOf({ columns, rows }: Pick<TableData, 'columns' | 'rows'>): string {
  return Papa.unparse(
    { fields: columns.map((one) => one.label), data: rows.map((row) => [...row]) },
    { newline: '\r\n', escapeFormulae: true },
  );
}
