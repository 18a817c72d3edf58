'use client';
import { useState } from 'react';
import { counted, fail, ok, type Problem, problem, type Result } from '../../../lib/base/index.ts';
import { readTableFile, sheetOf } from '../../../lib/tolerances/index.ts';
import { ProblemNote } from '../../_ui/kit.tsx';
import classes from './tables.module.css';
import { useWorkingCopies } from './workingCopy.ts';

/** The text of a file in UTF-8; in any other form letters would be read as others. */
function textIn(name: string, bytes: ArrayBuffer): Result<string, readonly Problem[]> {
  try {
    return ok(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return fail([
      problem(
        'file-unreadable',
        name,
        name,
        'The file is not text in UTF-8',
        'Save it as UTF-8 text (in a spreadsheet: CSV UTF-8) and choose it again.',
      ),
    ]);
  }
}

/** Brings a table in from a file. What comes in is a draft; a file with errors brings nothing in and tells all of them. */
export function BringIn() {
  const copies = useWorkingCopies();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const choose = async (file: File | undefined) => {
    if (file === undefined) return;
    const text = textIn(file.name, await file.arrayBuffer());
    const read = text.ok ? readTableFile(file.name, text.value) : text;
    setProblems(read.ok ? [] : read.error);
    if (read.ok) await copies.beginWith(sheetOf(read.value.table));
  };
  return (
    <>
      <label className={classes.file}>
        Bring in a file (CSV or JSON)
        <input
          type="file"
          accept=".csv,.json,text/csv,application/json"
          onChange={(event) => {
            void choose(event.target.files?.[0]);
            event.target.value = '';
          }}
        />
      </label>
      {problems.length === 0 ? null : (
        <div role="alert">
          <p>
            <b>Nothing was brought in.</b> The file has {counted(problems.length, 'error')}:
          </p>
          <ul className={classes.problems}>
            {problems.map((one) => (
              <li key={`${one.field}${one.message}`}>
                <b>{one.field}</b>
                <ProblemNote problem={{ ...one, field: '' }} />
              </li>
            ))}
          </ul>
        </div>
      )}
    </>
  );
}
