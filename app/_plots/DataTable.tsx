'use client';
import { showNumber } from '../../lib/units/index.ts';
import { saveFile } from '../_client/saveFile.ts';
import { Button } from '../_ui/kit.tsx';
import classes from './plots.module.css';
import { type Cell, type Column, csvOf, type TableData } from './table.ts';

/** What a cell shows; a figure that there is none of is a dash. */
function shownCell(cell: Cell, column: Column | undefined): string {
  if (cell === null) return '–';
  return typeof cell === 'number' ? showNumber(cell, column?.decimals ?? 0) : cell;
}

/** A day is not broken over two lines. */
function isDay(cell: Cell): boolean {
  return typeof cell === 'string' && /^\d{4}-\d{2}-\d{2}$/.test(cell);
}

/** A table of figures, which can be saved. A long one scrolls on screen and is whole on paper. */
export function DataTable({ data }: { data: TableData }) {
  const isFigure = (i: number) => data.columns[i]?.decimals !== undefined;
  return (
    <div className={classes.tableBox}>
      <p className={classes.caption}>{data.caption}</p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls is reached by the keyboard */}
      <div className={classes.scroll} tabIndex={0}>
        <table className={classes.table} aria-label={data.caption}>
          <thead>
            <tr>
              {data.columns.map((column, i) => (
                <th key={column.label} scope="col" className={isFigure(i) ? classes.figure : undefined}>
                  {column.label}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {data.rows.map((row, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: rows have no name of their own and keep their order
              <tr key={i}>
                {row.map((cell, j) =>
                  j === 0 ? (
                    // biome-ignore lint/suspicious/noArrayIndexKey: cells keep their order
                    <th key={j} scope="row" className={isDay(cell) ? classes.day : undefined}>
                      {shownCell(cell, data.columns[j])}
                    </th>
                  ) : (
                    // biome-ignore lint/suspicious/noArrayIndexKey: cells keep their order
                    <td key={j} className={isFigure(j) ? classes.figure : undefined}>
                      {shownCell(cell, data.columns[j])}
                    </td>
                  ),
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <Button
        className={classes.noPrint}
        onClick={() => saveFile(`${data.file}.csv`, 'text/csv', csvOf(data))}
      >
        Save as CSV
      </Button>
    </div>
  );
}
