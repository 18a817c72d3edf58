'use client';
import { type Measured, rowText } from '../../../lib/rules/index.ts';
import type { LintFinding, Row, SheetLine, SheetProblem, Table } from '../../../lib/tolerances/index.ts';
import { useUnits } from '../../_client/units.ts';
import { Button } from '../../_ui/kit.tsx';
import { LineForm } from './LineForm.tsx';
import { LintNote, RowBands } from './TableRows.tsx';
import classes from './tables.module.css';

const NONE: readonly Measured[] = [];

export interface RowLineProps {
  readonly line: SheetLine;
  /** The row as it was last read; undefined while the table cannot be read. */
  readonly row: Row | undefined;
  readonly open: boolean;
  readonly problems: readonly SheetProblem[];
  readonly lint: readonly LintFinding[];
  readonly decision: Table['decision'] | undefined;
  readonly readings: readonly Measured[] | undefined;
  onOpen(): void;
  onChange(line: SheetLine): void;
  onRemove(): void;
}

/** A row of a draft: closed, its name and what it says; open, its fields and its drawing. */
export function RowLine({ line, row, open, problems, lint, decision, readings, ...on }: RowLineProps) {
  const [units] = useUnits();
  const errors = problems.length + lint.filter((one) => one.severity === 'error').length;
  const doubts = lint.length - lint.filter((one) => one.severity === 'error').length;
  return (
    <section className={classes.line}>
      <button type="button" className={classes.lineHead} aria-expanded={open} onClick={on.onOpen}>
        <span>
          <b>{line.cells.name || `new row: ${line.kind}`}</b>
          <small>{row === undefined ? line.kind : rowText(row, units)}</small>
        </span>
        {errors > 0 ? <span className={classes.errorCount}>{errors} to put right</span> : null}
        {doubts > 0 ? <span className={classes.doubtCount}>{doubts} doubtful</span> : null}
      </button>
      {open ? (
        <div className={classes.lineBody}>
          <div>
            <LineForm line={line} problems={problems} onChange={on.onChange} />
            <Button onClick={on.onRemove}>Remove this row</Button>
          </div>
          <div className={classes.beside}>
            {row?.type === 'limit' && decision !== undefined ? (
              <RowBands row={row} decision={decision} readings={readings ?? NONE} />
            ) : null}
            {lint.map((one) => (
              <LintNote key={`${one.lint}${one.field}${one.message}`} finding={one} />
            ))}
          </div>
        </div>
      ) : null}
    </section>
  );
}
