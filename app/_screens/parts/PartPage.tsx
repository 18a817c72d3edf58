'use client';
import { type FormEvent, useState } from 'react';
import { type ComponentState, kinds, madeWords, partWords, staysOnDuty } from '../../../lib/record/index.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Empty, Field, When } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { PhotoThumb } from '../../_ui/PhotoThumb.tsx';
import { DutyHours } from '../inspect/DutyHours.tsx';
import { Pages } from './Pages.tsx';
import { PartForm } from './PartForm.tsx';
import classes from './parts.module.css';
import { Repairs } from './Repairs.tsx';

/** One part: its stamps, its age, where it was with the hours of each stay; and the ways to put its record right. */
export function PartPage({ part }: { part: ComponentState }) {
  const place = usePlace();
  const { register } = useWorkplace();
  const stays = staysOnDuty(part.fitments, register.meters);
  return (
    <>
      <Button onClick={() => place.go({ id: null })}>All parts</Button>
      {part.mergedInto === null ? null : (
        <Caution kind="note">
          This record is read as part of another one.{' '}
          <Button onClick={() => place.go({ id: part.mergedInto })}>Open that part</Button>
        </Caution>
      )}
      <Card
        title={part.componentKind}
        aside={
          part.identity === 'cannot be identified' ? (
            <span className={classes.unidentified}>? cannot be identified</span>
          ) : undefined
        }
      >
        <div className={classes.part}>
          <dl className={classes.stamps}>
            {[
              ['Maker', part.maker],
              ['Series', part.series],
              ['Stamp', part.stamp],
              ['Part number', part.partNumber],
              ['Serial number', part.serial],
              ['Date code', part.dateCode],
              ['Made', madeWords(part.made)],
            ].map(([label, value]) => (
              <div key={label}>
                <dt>{label}</dt>
                <dd>{value === '' ? 'not read' : value}</dd>
              </div>
            ))}
          </dl>
          {part.stampPhoto === null ? (
            <p>No photo of the stamps.</p>
          ) : (
            <PhotoThumb sha256={part.stampPhoto} name="the stamps" />
          )}
        </div>
        {part.merged.map((id) => {
          const record = register.components.get(id);
          return (
            <p key={id}>
              Read together with the record of {record === undefined ? 'another part' : partWords(record)}.{' '}
              <Button onClick={() => place.go({ id })}>Open that record</Button>
            </p>
          );
        })}
        <DutyHours component={part} />
      </Card>
      <Card title="Where it was">
        {stays.length === 0 ? <Empty>It has never been in a wheel of these books.</Empty> : null}
        <ul className={list.list}>
          {[...stays].reverse().map((stay) => {
            const wheel = register.wheels.get(stay.wheel);
            return (
              <li key={`${stay.from}${stay.wheel}`} className={list.row}>
                <span className={list.main}>
                  <a href={`/wheel?id=${stay.wheel}`}>{wheel?.tag ?? 'a wheel'}</a>, {stay.slot}
                  {stay.machine === null || stay.machine === '' ? '' : `, ${stay.machine}`}
                  <small>
                    <When at={stay.from} /> to {stay.until === null ? 'now' : <When at={stay.until} />};{' '}
                    {stay.hours === null ? `hours not counted: ${stay.why}` : `${stay.hours} h on duty`}
                  </small>
                </span>
              </li>
            );
          })}
        </ul>
      </Card>
      <Repairs part={part} />
      <Pages part={part} />
      <Corrections part={part} />
    </>
  );
}

function Corrections({ part }: { part: ComponentState }) {
  const { has, write } = useWorkplace();
  const [open, setOpen] = useState(false);
  if (part.mergedInto !== null || !(has('lead') || has('inspector'))) return null;
  return (
    <>
      <Card title="Put the record right">
        {open ? (
          <PartForm
            kind={part.componentKind}
            known={part}
            meterOf={null}
            words="Describe it so"
            onEnter={async (body) => {
              await write(kinds.componentDescribed, part.id, body);
              setOpen(false);
            }}
          />
        ) : (
          <Button onClick={() => setOpen(true)}>Describe it anew</Button>
        )}
      </Card>
      {has('lead') ? <Merge part={part} /> : null}
    </>
  );
}

/** Two records of one part are read as one from here on; both stay in the record. */
function Merge({ part }: { part: ComponentState }) {
  const place = usePlace();
  const { register, write } = useWorkplace();
  const [into, setInto] = useState('');
  const [reason, setReason] = useState('');
  const others = [...register.components.values()].filter(
    (one) =>
      one.id !== part.id &&
      one.described &&
      one.mergedInto === null &&
      one.componentKind === part.componentKind,
  );
  if (others.length === 0) return null;
  const merge = async (event: FormEvent) => {
    event.preventDefault();
    await write(kinds.componentMerged, part.id, { into, reason: reason.trim() });
    place.go({ id: into });
  };
  return (
    <Card title="The same part twice">
      <form onSubmit={(event) => void merge(event)}>
        <p>
          Where this part has a second record, read this one as part of that. Stays, tests, hours and findings
          of both then count for one part; nothing is taken out of the record.
        </p>
        <Field label="It is the same part as">
          <select required value={into} onChange={(event) => setInto(event.target.value)}>
            <option value="">choose</option>
            {others.map((one) => (
              <option key={one.id} value={one.id}>
                {partWords(one)}
              </option>
            ))}
          </select>
        </Field>
        <Field label="How you know">
          <input
            required
            maxLength={500}
            value={reason}
            onChange={(event) => setReason(event.target.value)}
          />
        </Field>
        <Button type="submit" tone="grave" disabled={into === '' || reason.trim() === ''}>
          Read both as one part
        </Button>
      </form>
    </Card>
  );
}
