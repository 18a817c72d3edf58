'use client';
import { useMemo, useState } from 'react';
import { type ComponentState, partWords, type RegisterState } from '../../../lib/record/index.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Card, Choice, Empty, Field } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { InAndOut } from './InAndOut.tsx';
import { Labels } from './Labels.tsx';
import { Meters } from './Meters.tsx';
import { PartPage } from './PartPage.tsx';
import classes from './parts.module.css';

/** Every part of the site: what it is, how old, where it is and was. */
export function Parts() {
  return (
    <Frame title="Parts" back={{ href: '/', label: 'start' }}>
      <Body />
    </Frame>
  );
}

const SHOWS = ['all', 'cannot be identified', 'age unknown', 'in no wheel'] as const;
type Shows = (typeof SHOWS)[number];

/** Where a part is now, in words; null: in no wheel. */
export function whereIs({ fitments }: ComponentState, { wheels }: RegisterState): string | null {
  const stay = fitments.at(-1);
  if (stay === undefined || stay.until !== null) return null;
  const wheel = wheels.get(stay.wheel);
  return `${stay.slot} of ${wheel === undefined ? 'a wheel not fetched yet' : `${wheel.tag}, ${wheel.machine} ${wheel.position}`}`;
}

function isShown(part: ComponentState, shows: Shows, register: RegisterState): boolean {
  switch (shows) {
    case 'all':
      return true;
    case 'cannot be identified':
      return part.identity === 'cannot be identified';
    case 'age unknown':
      return part.made.how === 'unknown';
    case 'in no wheel':
      return whereIs(part, register) === null;
  }
}

function Body() {
  const place = usePlace();
  const { register, has } = useWorkplace();
  const [word, setWord] = useState('');
  const [shows, setShows] = useState<Shows>('all');
  const parts = useMemo(
    () =>
      [...register.components.values()]
        .filter(({ described, mergedInto }) => described && mergedInto === null)
        .sort((a, b) => (partWords(a) < partWords(b) ? -1 : 1)),
    [register],
  );
  const id = place.get('id');
  const chosen = id === null ? undefined : register.components.get(id);
  if (chosen !== undefined) return <PartPage part={chosen} key={chosen.id} />;
  const shown = parts.filter(
    (part) =>
      isShown(part, shows, register) &&
      `${part.componentKind} ${partWords(part)} ${whereIs(part, register) ?? ''}`
        .toLowerCase()
        .includes(word.trim().toLowerCase()),
  );
  const counts = Object.fromEntries(
    SHOWS.map((one) => [one, `${one} (${parts.filter((part) => isShown(part, one, register)).length})`]),
  );
  return (
    <>
      <Choice legend="Show" options={SHOWS} words={counts} value={shows} onChoose={setShows} />
      <Field label="Find by stamp, serial, maker, wheel or machine">
        <input value={word} onChange={(event) => setWord(event.target.value)} />
      </Field>
      <Card title={`${shown.length} of ${parts.length} parts`}>
        {shown.length === 0 ? <Empty>No part fits.</Empty> : null}
        <ul className={list.list}>
          {shown.map((part) => (
            <li key={part.id}>
              <button type="button" className={list.row} onClick={() => place.go({ id: part.id })}>
                <span className={list.main}>
                  <b>{part.componentKind}</b> {partWords(part)}
                  <small>{whereIs(part, register) ?? 'in no wheel'}</small>
                </span>
                {part.identity === 'cannot be identified' ? (
                  <span className={classes.unidentified}>? cannot be identified</span>
                ) : null}
              </button>
            </li>
          ))}
        </ul>
      </Card>
      {has('lead') || has('inspector') ? <Meters /> : null}
      {has('lead') ? <InAndOut /> : null}
      <Labels />
    </>
  );
}
