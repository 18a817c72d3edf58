'use client';
import { useMemo } from 'react';
import { counted } from '../../../lib/base/index.ts';
import { fleetRisks, type Measured, rowText, sourceText } from '../../../lib/rules/index.ts';
import type { LintFinding, Row, Table } from '../../../lib/tolerances/index.ts';
import { showProbability } from '../../../lib/units/index.ts';
import { useUnits } from '../../_client/units.ts';
import { LimitBands } from '../../_drawings/LimitBands.tsx';
import { Card, Caution } from '../../_ui/kit.tsx';
import { useTablesInForce } from './shown.ts';
import classes from './tables.module.css';

const NONE: readonly Measured[] = [];

/** Every row of a table in words, its limits drawn with the fleet's readings, and what is doubtful about it. */
export function TableRows({
  table,
  lint,
  readings,
}: {
  table: Table;
  lint: readonly LintFinding[];
  readings: ReadonlyMap<string, readonly Measured[]>;
}) {
  return (
    <Card title={`Rows (${table.rows.length})`}>
      <LintOfTable lint={lint} />
      <ReworkBanned />
      {table.rows.map((row) => (
        <div className={classes.row} key={row.row}>
          <div>
            <h3>{row.row}</h3>
            <RowWords row={row} />
            {lint
              .filter((one) => one.rows[0] === row.row)
              .map((one) => (
                <LintNote key={`${one.lint}${one.field}${one.message}`} finding={one} />
              ))}
          </div>
          {row.type === 'limit' ? (
            <RowBands row={row} decision={table.decision} readings={readings.get(row.row) ?? NONE} />
          ) : null}
        </div>
      ))}
    </Card>
  );
}

/** That a rule in force turns repairs into scrap, where one does: the bands show the row alone. */
export function ReworkBanned() {
  const bans = useTablesInForce().flatMap((table) =>
    table.rows.filter((row) => row.type === 'no rework').map((row) => `${table.table}, ${row.row}`),
  );
  return bans.length === 0 ? null : (
    <Caution kind="note">
      A rule in force ({bans.join('; ')}) bans rework: of the parts it speaks of, what a row calls repair by
      rework becomes scrap.
    </Caution>
  );
}

/** What is doubtful about the table itself rather than about a row. */
export function LintOfTable({ lint }: { lint: readonly LintFinding[] }) {
  return lint
    .filter((one) => one.rows.length === 0)
    .map((one) => <LintNote key={`${one.lint}${one.field}${one.message}`} finding={one} />);
}

/** A row as a sentence, with its note and its source. */
function RowWords({ row }: { row: Row }) {
  const [units] = useUnits();
  const { edition } = row.source;
  return (
    <>
      <p>{rowText(row, units)}</p>
      {row.note === '' ? null : <p>{row.note}</p>}
      <p className={classes.source}>
        <span className={classes.kind}>{row.source.kind}</span>:{' '}
        {sourceText({ ...row.source, kind: 'published' })}
        {edition === '' ? '' : `, ${edition}`}
      </p>
    </>
  );
}

interface BandsProps {
  readonly row: Extract<Row, { type: 'limit' }>;
  readonly decision: Table['decision'];
  readonly readings: readonly Measured[];
}

/** The drawing of a limit with the fleet's readings on it, and what the limit does to such a fleet. */
export function RowBands({ row, decision, readings }: BandsProps) {
  const count = readings.length;
  const risks = useMemo(() => fleetRisks(row, decision, readings), [row, decision, readings]);
  return (
    <div>
      <LimitBands row={row} readings={readings.map((one) => one.value)} />
      <p className={classes.source}>
        {count === 0
          ? 'No reading of the fleet is compared with this row.'
          : `${counted(count, 'reading')} from the wheels’ last submissions.`}
        {risks === null
          ? ''
          : ` Of places spread and measured like these ${showProbability(risks.consumer)} would be kept though beyond keep, ${showProbability(risks.producer)} not kept though within (JCGM 106, 9.5).`}
      </p>
    </div>
  );
}

/** Something wrong or doubtful in a row, with the way out. */
export function LintNote({ finding }: { finding: LintFinding }) {
  const { severity, message, wayOut } = finding;
  return (
    <p className={`${classes.lint} ${severity === 'error' ? classes.error : classes.warning}`}>
      <b>{severity === 'error' ? 'Error' : 'Doubtful'}:</b> {message}. {wayOut}
    </p>
  );
}
