'use client';
import { saveFile } from '../../_client/saveFile.ts';
import { csvOf } from '../../_plots/table.ts';
import { Button } from '../../_ui/kit.tsx';
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

/** Figures each with its interval and its sentence; the sources stand below. */
export function FigureList({ figures, file }: { figures: readonly Figure[]; file: string }) {
  const sources = [...new Set(figures.map((one) => one.source))];
  const save = () => {
    const columns = ['Figure', 'Value', '95 % interval', 'What it says', 'Source'].map((label) => ({
      label,
    }));
    const rows = figures.map((one) => [one.name, one.value, one.interval, one.says, one.source]);
    saveFile(`${file}.csv`, 'text/csv', csvOf({ columns, rows }));
  };
  return (
    <>
      <dl className={classes.figures}>
        {figures.map((one) => (
          <div key={one.name}>
            <dt>{one.name}</dt>
            <dd>
              <b>{one.value}</b>
              {one.interval === '' ? null : <span>95 % interval {one.interval}</span>}
              <p>{one.says}</p>
            </dd>
          </div>
        ))}
      </dl>
      <Button className={classes.noPrint} onClick={save}>
        Save as CSV
      </Button>
      <p className={classes.source}>Methods: {sources.join('; ')}.</p>
    </>
  );
}
