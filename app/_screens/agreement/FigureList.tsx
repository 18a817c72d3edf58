'use client';
import { DataTable } from '../../_plots/DataTable.tsx';
import classes from './agreement.module.css';

/** A figure of agreement, with what it says and where its method is from. */
export interface Figure {
  readonly name: string;
  readonly value: string;
  /** 95 % confidence interval; empty where there is none. */
  readonly interval: string;
  readonly says: string;
  readonly source: string;
}

/** Figures as a table, each with its sentence; the sources stand below. */
export function FigureList({ figures, file }: { figures: readonly Figure[]; file: string }) {
  const sources = [...new Set(figures.map((one) => one.source))];
  return (
    <>
      <DataTable
        data={{
          caption: 'Figures with their 95 % confidence intervals',
          columns: [
            { label: 'Figure' },
            { label: 'Value' },
            { label: '95 % interval' },
            { label: 'What it says' },
          ],
          rows: figures.map((one) => [one.name, one.value, one.interval, one.says]),
          file,
        }}
      />
      <p className={classes.source}>Methods: {sources.join('; ')}.</p>
    </>
  );
}
