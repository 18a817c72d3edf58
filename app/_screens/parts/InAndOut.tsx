'use client';
import { useState } from 'react';
import { counted, type Problem } from '../../../lib/base/index.ts';
import { kinds, type PartsFile, partsAsCsv, readPartsCsv } from '../../../lib/record/index.ts';
import { newId } from '../../_client/device.ts';
import { saveFile } from '../../_client/saveFile.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Field, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import classes from './parts.module.css';

/** Parts as a file: saved, and brought in after a look at what every line would do. */
export function InAndOut() {
  const { register, write } = useWorkplace();
  const [file, setFile] = useState<PartsFile | null>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [done, setDone] = useState('');
  const choose = async (chosen: File | undefined) => {
    if (chosen === undefined) return;
    const read = readPartsCsv(await chosen.text(), register.components);
    setDone('');
    setFile(read.ok ? read.value : null);
    setProblems(read.ok ? [] : read.error);
  };
  const lines = file?.lines ?? [];
  const wrong = lines.filter(({ what }) => what === 'wrong');
  const doing = lines.filter(({ what }) => what === 'new' || what === 'changed');
  const bringIn = async () => {
    for (const { component, body } of doing)
      if (body !== null) await write(kinds.componentDescribed, component ?? newId(), body);
    setDone(`${counted(doing.length, 'part')} brought in.`);
    setFile(null);
  };
  return (
    <Card title="Parts as a file">
      <Button
        onClick={() =>
          saveFile('parts.csv', 'text/csv', `\uFEFF${partsAsCsv([...register.components.values()])}\r\n`)
        }
      >
        Save all parts (CSV)
      </Button>
      <Field
        label="Bring parts in (CSV)"
        hint="First you see what every line would do; nothing is brought in before that."
      >
        <input
          type="file"
          accept=".csv,text/csv"
          onChange={(event) => {
            void choose(event.target.files?.[0]);
            event.target.value = '';
          }}
        />
      </Field>
      {done === '' ? null : <p role="status">{done}</p>}
      {problems.map((one) => (
        <ProblemNote key={`${one.field}${one.message}`} problem={one} />
      ))}
      {file === null ? null : (
        <>
          <p>
            {counted(lines.length, 'line')}: {doing.length} to bring in, {wrong.length} wrong,{' '}
            {lines.length - doing.length - wrong.length} as they are.
          </p>
          <div className={classes.scroll}>
            <table className={list.table}>
              <thead>
                <tr>
                  <th>Line</th>
                  <th>What it does</th>
                  <th>Part</th>
                </tr>
              </thead>
              <tbody>
                {lines.map(({ line, what, body, problems: why }) => (
                  <tr key={line}>
                    <td className={list.figure}>{line}</td>
                    <td>{what === 'wrong' ? '≠ wrong' : what}</td>
                    <td>
                      {body === null ? '' : `${body.componentKind}, ${body.maker} ${body.serial}`}
                      {why.map((one) => (
                        <ProblemNote key={`${one.field}${one.message}`} problem={one} />
                      ))}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <Button tone="act" disabled={wrong.length > 0 || doing.length === 0} onClick={() => void bringIn()}>
            {wrong.length > 0
              ? 'Nothing is brought in while a line is wrong'
              : `Bring in ${counted(doing.length, 'part')}`}
          </Button>
        </>
      )}
    </Card>
  );
}
