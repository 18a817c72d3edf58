'use client';
import { useDeferredValue, useEffect, useMemo, useState } from 'react';
import { counted, type Problem } from '../../../lib/base/index.ts';
import { kinds } from '../../../lib/record/index.ts';
import { lookThrough } from '../../../lib/rules/index.ts';
import {
  LINE_KINDS,
  type LintFinding,
  nameTaken,
  readSheet,
  type Sheet,
  type SheetLine,
  sheetOf,
  tableHash,
} from '../../../lib/tolerances/index.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Choice, Empty, Field, ProblemNote } from '../../_ui/kit.tsx';
import { useFleet, useReadings } from './fleet.ts';
import { LineForm } from './LineForm.tsx';
import { RowLine } from './RowLine.tsx';
import type { ShownTable } from './shown.ts';
import { LintOfTable, ReworkBanned } from './TableRows.tsx';
import classes from './tables.module.css';
import { emptyLine, useWorkingCopies, type WorkingCopy } from './workingCopy.ts';

/** A draft being changed. What is typed is kept on the device at once; it enters the record as a whole. */
export function Editor({ id, shown }: { id: string; shown: ShownTable | null }) {
  const { has } = useWorkplace();
  const copies = useWorkingCopies();
  const [copy, setCopy] = useState<WorkingCopy | null>(null);
  const [looked, setLooked] = useState(false);
  const { read, forget } = copies;
  useEffect(() => {
    let gone = false;
    const open = async () => {
      const kept = await read(id);
      // What was typed has arrived as the newest draft: there is nothing left to keep.
      const entered = kept !== null && shown !== null && hashOf(kept) === shown.hash;
      if (entered) await forget(id);
      if (gone) return;
      const fresh = shown?.standing === 'draft' ? copyOf(shown) : null;
      setCopy((before) => before ?? (entered ? fresh : (kept ?? fresh)));
      setLooked(true);
    };
    void open();
    return () => {
      gone = true;
    };
  }, [read, forget, id, shown]);
  if (!has('lead')) return <Empty>Only a lead changes tables.</Empty>;
  if (copy === null) {
    if (!looked) return <p>Opening …</p>;
    return shown === null ? (
      <Empty>There is nothing to change here. Begin a table from the list.</Empty>
    ) : (
      <Empty>An edition that is {shown.standing} never changes. Begin a new edition from it.</Empty>
    );
  }
  const change = (next: WorkingCopy) => {
    setCopy(next);
    void copies.keep(id, next);
  };
  return <Changing id={id} copy={copy} shown={shown} onChange={change} />;
}

function copyOf({ table, hash }: ShownTable): WorkingCopy {
  return { sheet: sheetOf(table), base: hash, note: '' };
}

/** Hash of the content typed; null while it cannot be read. */
function hashOf({ sheet }: WorkingCopy): string | null {
  const { table } = readSheet(sheet);
  return table === null ? null : tableHash(table);
}

/** Why what was typed cannot be entered under this id any more; null when it can. */
function overtaken({ base }: WorkingCopy, shown: ShownTable | null): string | null {
  if (shown === null) return null;
  if (shown.standing !== 'draft') return `This edition is ${shown.standing} now and never changes.`;
  return base === shown.hash ? null : 'Somebody changed this draft after you began from it.';
}

interface ChangingProps {
  readonly id: string;
  readonly copy: WorkingCopy;
  readonly shown: ShownTable | null;
  onChange(copy: WorkingCopy): void;
}

/** What the sheet says as it stands: the table, or the problems; then what is doubtful about the rows that can be read. */
function useLookedThrough(sheet: Sheet) {
  const settled = useDeferredValue(sheet);
  return useMemo(() => {
    const { table, problems, readable } = readSheet(settled);
    const lint = readable === null ? [] : lookThrough(readable);
    return { table, problems, readable, lint };
  }, [settled]);
}

function Changing({ id, copy, shown, onChange: onCopy }: ChangingProps) {
  const { write, exchange, store, tables } = useWorkplace();
  const copies = useWorkingCopies();
  const { sheet, note } = copy;
  const onChange = (next: Sheet) => onCopy({ ...copy, sheet: next });
  const place = usePlace();
  const { table, problems, readable, lint } = useLookedThrough(sheet);
  const readings = useReadings(useFleet(), readable);
  const [open, setOpen] = useState<string | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [sending, setSending] = useState(false);
  const late = overtaken(copy, shown);
  const taken = table === null ? null : nameTaken(table, id, tables.tables);
  const rowOf = (line: SheetLine) => readable?.rows.find((one) => one.row === line.cells.name);
  const lintOf = (line: SheetLine) =>
    lint.filter((one) => readable?.rows[rowIndex(one)]?.row === line.cells.name);
  const problemsOf = (line: string) => problems.filter((one) => one.line === line);
  const setRow = (row: SheetLine) =>
    onChange({ ...sheet, rows: sheet.rows.map((one) => (one.id === row.id ? row : one)) });
  const enter = async () => {
    const now = readSheet(sheet).table;
    if (now === null) return;
    setWrong(null);
    setSending(true);
    const entry = await write(kinds.tableDrafted, id, { content: { ...now }, base: copy.base, note });
    await exchange();
    const left = (await store.outbox()).find((item) => item.id === entry.id);
    if (left === undefined) {
      await copies.forget(id);
      place.go({ table: id, show: null });
    } else if (left.problem !== null) {
      setSending(false);
      setWrong(left.problem);
    }
    // Without a connection what was typed stays here until the entry has arrived.
  };
  return (
    <>
      <Caution kind="note">
        What you type is kept on this device at once. It enters the record when you say so, and is used when a
        second person has approved it.
      </Caution>
      <Card title="The table">
        <LineForm
          line={sheet.table}
          problems={problemsOf(sheet.table.id)}
          onChange={(next) => onChange({ ...sheet, table: next })}
        />
      </Card>
      <Card title={`Rows (${sheet.rows.length})`}>
        <ReworkBanned />
        {sheet.rows.length === 0 ? <Empty>No row yet. Add one below.</Empty> : null}
        {sheet.rows.map((line) => (
          <RowLine
            key={line.id}
            line={line}
            row={rowOf(line)}
            open={open === line.id}
            problems={problemsOf(line.id)}
            lint={lintOf(line)}
            decision={readable?.decision}
            readings={readings.get(line.cells.name ?? '')}
            onOpen={() => setOpen(open === line.id ? null : line.id)}
            onChange={setRow}
            onRemove={() => onChange({ ...sheet, rows: sheet.rows.filter((one) => one.id !== line.id) })}
          />
        ))}
        <AddRow
          onAdd={(line) => {
            onChange({ ...sheet, rows: [...sheet.rows, line] });
            setOpen(line.id);
          }}
        />
      </Card>
      <Card title="Enter the draft">
        <LintOfTable lint={lint} />
        <Standing problems={problems.length} lint={lint} rows={sheet.rows.length} />
        <Field label="What was changed and why" hint="For whoever approves it">
          <input
            maxLength={500}
            value={note}
            onChange={(event) => onCopy({ ...copy, note: event.target.value })}
          />
        </Field>
        {wrong === null ? null : <ProblemNote problem={wrong} />}
        {taken === null ? null : <ProblemNote problem={taken} />}
        {sending ? <p role="status">Being sent; what you typed stays here until it has arrived.</p> : null}
        {late === null ? null : (
          <Caution>
            {late} What you typed is still here.{' '}
            <Button onClick={() => void copies.beginWith(sheet)}>Go on with it as a table of its own</Button>
          </Caution>
        )}
        <div className={classes.actions}>
          <Button
            tone="act"
            disabled={table === null || late !== null || taken !== null || sending}
            onClick={() => void enter()}
          >
            Enter the draft
          </Button>
          <Discard
            what={shown === null ? 'Drop what was begun' : 'Drop my changes'}
            onDiscard={async () => {
              await copies.forget(id);
              place.go({ table: shown === null ? null : id, show: null });
            }}
          />
        </div>
      </Card>
    </>
  );
}

/** The row that a finding is about, by its place in the table. */
function rowIndex({ field }: LintFinding): number {
  return Number(/^rows\.(\d+)/.exec(field)?.[1] ?? -1);
}

/** How the draft stands: errors, doubts, or fit to be entered. */
function Standing({
  problems,
  lint,
  rows,
}: {
  problems: number;
  lint: readonly LintFinding[];
  rows: number;
}) {
  const errors = lint.filter((one) => one.severity === 'error').length;
  if (problems > 0) {
    return (
      <p aria-live="polite">
        <b>{counted(problems, 'field')} still to be put right.</b> They are marked above; nothing is lost
        meanwhile.
      </p>
    );
  }
  return (
    <p aria-live="polite">
      {counted(rows, 'row')} can be read;{' '}
      {errors === 0 ? 'no error' : `${counted(errors, 'error')}, so that it cannot be approved`},{' '}
      {lint.length - errors} doubtful.
    </p>
  );
}

function Discard({ what, onDiscard }: { what: string; onDiscard: () => Promise<void> }) {
  const [sure, setSure] = useState(false);
  if (!sure) return <Button onClick={() => setSure(true)}>{what} …</Button>;
  return (
    <>
      <Button tone="grave" onClick={() => void onDiscard()}>
        {what} for good
      </Button>
      <Button onClick={() => setSure(false)}>Keep them</Button>
    </>
  );
}

const ROW_KINDS = LINE_KINDS.filter((kind) => kind !== 'table');
const KIND_WORDS: Readonly<Partial<Record<SheetLine['kind'], string>>> = {
  limit: 'limit of a size',
  defect: 'rule for a defect',
  'no rework': 'ban on rework',
  test: 'test asked for',
  age: 'age or hours',
  match: 'parts that go together',
  'evidence (photo)': 'photo asked for',
  'evidence (reading)': 'reading asked for',
};

function AddRow({ onAdd }: { onAdd: (line: SheetLine) => void }) {
  return (
    <Choice
      legend="Add a row"
      options={ROW_KINDS}
      words={KIND_WORDS}
      value={null}
      onChoose={(kind) => onAdd(emptyLine(kind))}
    />
  );
}
