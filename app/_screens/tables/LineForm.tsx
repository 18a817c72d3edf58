'use client';
import { columnsOf, optionsOf, type SheetLine, type SheetProblem } from '../../../lib/tolerances/index.ts';
import { CellField } from './CellField.tsx';
import classes from './tables.module.css';

/** Columns that only bounds counted from the size of the new part need. */
const RELATIVE: readonly string[] = ['nominal', 'nominal uncertainty'];

/** The fields of one line of a draft, each with what is wrong in it. */
export function LineForm({
  line,
  problems,
  onChange,
}: {
  line: SheetLine;
  problems: readonly SheetProblem[];
  onChange: (line: SheetLine) => void;
}) {
  const relative = !['', 'value'].includes(line.cells['bounds of'] ?? '');
  const columns = columnsOf(line.kind).filter(
    ({ name }) => relative || !RELATIVE.includes(name) || (line.cells[name] ?? '') !== '',
  );
  const known = new Set(columns.map((one) => one.name));
  return (
    <div className={classes.fields}>
      {problems
        .filter((one) => !known.has(one.column))
        .map(({ problem }) => (
          <p key={problem.message} className={`${classes.lint} ${classes.error}`}>
            {problem.message}. {problem.wayOut}
          </p>
        ))}
      {columns.map((column) => (
        <CellField
          key={column.name}
          column={column}
          options={optionsOf(column.name, line.kind)}
          needed={column.needed.includes(line.kind)}
          value={line.cells[column.name] ?? ''}
          problems={problems.filter((one) => one.column === column.name).map((one) => one.problem)}
          onChange={(value) => onChange({ ...line, cells: { ...line.cells, [column.name]: value } })}
        />
      ))}
    </div>
  );
}
