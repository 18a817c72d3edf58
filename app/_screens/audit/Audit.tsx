'use client';
import { useMemo, useState } from 'react';
import { counted } from '../../../lib/base/index.ts';
import { type StoredEntry, trailOf } from '../../../lib/record/index.ts';
import { namesOf } from '../../_client/inspection.ts';
import { usePeople } from '../../_client/people.ts';
import { usePlace } from '../../_client/place.ts';
import { saveFile } from '../../_client/saveFile.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Caution, Empty, Field, ProblemNote, When } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { KeptFromYou } from '../KeptFromYou.tsx';
import classes from './audit.module.css';
import { linesFile, recordFile } from './exporting.ts';
import { type CheckedChain, useChain } from './useChain.ts';

/** Everything anyone did to one inspection, with the chain of hashes followed on the screen. */
export function Audit() {
  return (
    <Frame title="Record" back={{ href: '/queue', label: 'the queue' }} wide>
      <Body />
    </Frame>
  );
}

function Body() {
  const place = usePlace();
  const id = place.get('id');
  const { chain, wrong, check } = useChain(id);
  if (id === null) return <Empty>Open it from the page of an inspection.</Empty>;
  if (wrong !== null && chain === null) {
    return (
      <Card title="The record cannot be fetched now">
        <ProblemNote problem={wrong} />
        <Button onClick={() => void check()}>Try again</Button>
      </Card>
    );
  }
  if (chain === null) return <p>Fetching the record …</p>;
  return (
    <>
      {chain.withheld === null ? null : <KeptFromYou inspection={id} withheld={chain.withheld} />}
      <Chain chain={chain} onCheck={check} />
      <Lines inspection={id} chain={chain} />
    </>
  );
}

const FAULT_WORDS = {
  changed: 'its content does not fit its hash',
  missing: 'entries before it are gone',
  reordered: 'it is not where it was put',
} as const;

function Chain({ chain, onCheck }: { chain: CheckedChain; onCheck(): Promise<void> }) {
  const { broken, head, entries } = chain;
  return (
    <Card title="Chain of hashes">
      {broken === null ? (
        <p>
          The chain can be followed here when nothing is kept from you any more. The server has{' '}
          {counted(head.entries, 'entry', 'entries')}.
        </p>
      ) : broken.length === 0 ? (
        <p>
          <b>✓ Whole.</b> This browser has computed the hashes of{' '}
          {counted(entries.length, 'entry', 'entries')} again: none was changed, removed or moved since it
          arrived.
        </p>
      ) : (
        <Caution kind="danger">
          {counted(broken.length, 'break')} in the record.
          <ul>
            {broken.map(({ fault, seq, entry }) => (
              <li key={`${seq}${fault}`}>
                Place {seq}
                {entry === undefined ? '' : `, entry ${entry}`}: {FAULT_WORDS[fault]}
              </li>
            ))}
          </ul>
        </Caution>
      )}
      <p className={classes.hash}>
        End of the chain: <code>{head.hash}</code>
      </p>
      <Button onClick={() => void onCheck()}>Check again</Button>
    </Card>
  );
}

function Lines({ inspection, chain }: { inspection: string; chain: CheckedChain }) {
  const workplace = useWorkplace();
  const people = usePeople();
  const [person, setPerson] = useState('');
  const [word, setWord] = useState('');
  const names = namesOf(workplace, people);
  const stored = useMemo(
    () => new Map<string, StoredEntry>(chain.entries.map((entry) => [entry.id, entry])),
    [chain.entries],
  );
  // biome-ignore lint/correctness/useExhaustiveDependencies: names are looked up in the register and the people.
  const lines = useMemo(() => trailOf(chain.entries, names), [chain.entries, workplace.register, people]);
  const authors = [...new Set(lines.map(({ author }) => author))];
  const shown = lines.filter(
    (line) =>
      (person === '' || line.author === person) &&
      `${line.kind} ${line.text} ${line.from ?? ''} ${line.to ?? ''}`
        .toLowerCase()
        .includes(word.toLowerCase()),
  );
  return (
    <Card title={counted(lines.length, 'entry', 'entries')}>
      <div className={classes.filters}>
        <Field label="Person">
          <select value={person} onChange={(event) => setPerson(event.target.value)}>
            <option value="">everybody</option>
            {authors.map((id) => (
              <option key={id} value={id}>
                {names.person(id)}
              </option>
            ))}
          </select>
        </Field>
        <Field label="With the words">
          <input value={word} onChange={(event) => setWord(event.target.value)} />
        </Field>
        <Button
          onClick={() =>
            saveFile(
              `record-${inspection.slice(0, 8)}.csv`,
              'text/csv',
              linesFile(lines, stored, names.person),
            )
          }
        >
          Save the lines (CSV)
        </Button>
        <Button
          onClick={() =>
            saveFile(
              `record-${inspection.slice(0, 8)}.json`,
              'application/json',
              recordFile(inspection, chain),
            )
          }
        >
          Save the record (JSON)
        </Button>
      </div>
      {shown.length === 0 ? <Empty>No line has these words.</Empty> : null}
      <div className={classes.scroll}>
        <table className={list.table}>
          <thead>
            <tr>
              <th>When</th>
              <th>Who</th>
              <th>What</th>
              <th>From → to</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((line) => (
              <tr key={line.entry}>
                <td>
                  <When at={line.at} />
                </td>
                <td>{names.person(line.author)}</td>
                <td>{line.text}</td>
                <td>
                  {line.to === null ? '' : line.from === line.to ? line.to : `${line.from} → ${line.to}`}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Card>
  );
}
