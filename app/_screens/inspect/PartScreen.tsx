'use client';
import { useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { kinds, lookKey, partWords } from '../../../lib/record/index.ts';
import { parseTypedHours } from '../../../lib/units/index.ts';
import { type Slot, slotOf, zoneInfo } from '../../../lib/wheel/index.ts';
import { newId } from '../../_client/device.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Empty, Field, ProblemNote, Verdict } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { type MeterBody, type PartBody, PartForm } from '../parts/PartForm.tsx';
import { DutyHours } from './DutyHours.tsx';
import { Findings } from './Findings.tsx';
import { useGate, useMayAdd } from './Inspect.tsx';
import classes from './inspect.module.css';
import { MissingList } from './MissingList.tsx';
import { ReadingTable } from './ReadingTable.tsx';
import { TestCard } from './TestCard.tsx';
import { hasDefect, zoneStates } from './zoneStates.ts';

/** One part: which component it is, its zones, its readings, and what the verdict says of it. */
export function PartScreen({ view, slotName }: { view: InspectionView; slotName: string }) {
  const place = usePlace();
  const gate = useGate(view);
  const { register } = useWorkplace();
  const slot = slotOf(view.construction, slotName);
  const verdict = view.verdict.parts.find((part) => part.slot === slotName);
  const component = view.parts.get(slotName);
  if (slot === undefined || verdict === undefined) {
    return (
      <Empty>
        A {view.construction.title.toLowerCase()} has no part “{slotName}” to inspect.
      </Empty>
    );
  }
  return (
    <>
      <Button onClick={() => place.go({ part: null })}>All parts</Button>
      <Card title={slot.slot} aside={<Verdict result={verdict.result} />}>
        <p>{verdict.sentence}</p>
        {component === undefined ? (
          <Identify view={view} slot={slot} />
        ) : (
          <div>
            {partWords(component)}
            <DutyHours component={component} />
            <div className={classes.tools}>
              <TakeOut view={view} component={component.id} slot={slotName} />
            </div>
          </div>
        )}
      </Card>
      {component === undefined ? null : (
        <>
          {gate.allows === 'walk-around' ? (
            <Caution kind="danger">
              Walk-around only: look and photograph from outside the trajectory. Do not touch the part.
            </Caution>
          ) : null}
          <ZoneList view={view} slot={slot} component={component.id} />
          <ReadingTable view={view} slot={slot} component={component} />
          <TestCard view={view} slot={slot} component={component} />
          <Card title="Findings">
            <Findings
              findings={verdict.findings}
              verdict={view.verdict}
              slot={slotName}
              instruments={register.instruments}
            />
          </Card>
          {verdict.missing.length === 0 ? null : (
            <Card title="Still missing">
              <MissingList slot={slotName} missing={verdict.missing} />
            </Card>
          )}
        </>
      )}
    </>
  );
}

/** The zones of a part: what is known of each, the way in, and the quickest answer for a clean one. */
function ZoneList({ view, slot, component }: { view: InspectionView; slot: Slot; component: string }) {
  const place = usePlace();
  const { write } = useWorkplace();
  const { may } = useMayAdd(view);
  const states = zoneStates(view).filter((one) => one.slot === slot.slot);
  const photos = [...view.state.photos.values()].filter(({ value }) => value.component === component);
  const words = (zone: string, standing: string) => {
    const count = photos.filter(({ value }) => value.zone === zone).length;
    return count === 0 ? standing : `${standing}, ${count} photo${count > 1 ? 's' : ''}`;
  };
  return (
    <Card title="Zones">
      <ul className={list.list}>
        {states.map((state) => (
          <li key={state.zone} className={classes.zoneRow}>
            <button
              type="button"
              className={list.row}
              onClick={() => place.go({ part: slot.slot, zone: state.zone })}
            >
              <span className={list.main}>
                <b>{state.zone}</b> <span className={classes.standing}>{words(state.zone, state.words)}</span>
                <small>{zoneInfo(state.zone).lookFor}</small>
              </span>
            </button>
            {may &&
            !view.state.looks.has(lookKey(component, state.zone)) &&
            !hasDefect(view, component, state.zone) ? (
              <Button
                onClick={() =>
                  void write(kinds.zoneLookedAt, view.state.id, {
                    component,
                    zone: state.zone,
                    result: 'nothing seen',
                    note: '',
                  })
                }
              >
                Nothing seen
              </Button>
            ) : null}
          </li>
        ))}
      </ul>
    </Card>
  );
}

/** Says that a component is no longer in the wheel; what was found on it stays in the inspection. */
function TakeOut({ view, component, slot }: { view: InspectionView; component: string; slot: string }) {
  const { write } = useWorkplace();
  const { may } = useMayAdd(view);
  const [asking, setAsking] = useState(false);
  const [reason, setReason] = useState('');
  const [meter, setMeter] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  if (!may) return null;
  if (!asking) return <Button onClick={() => setAsking(true)}>Not in this wheel</Button>;
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        const hours = meter.trim() === '' ? null : parseTypedHours(meter, 'meter');
        if (hours?.ok === false) return setWrong(hours.error);
        void write(kinds.componentRemoved, component, {
          wheel: view.wheel.id,
          reason,
          on: null,
          machineHours: hours?.value ?? null,
        });
      }}
    >
      <Field label={`Why the ${slot} is not in this wheel`}>
        <input required value={reason} onChange={(event) => setReason(event.target.value)} />
      </Field>
      <Field
        label="Meter of the machine, hours"
        hint="Leave empty when it is not read: the hours of this stay are then not counted"
      >
        <input inputMode="numeric" value={meter} onChange={(event) => setMeter(event.target.value)} />
      </Field>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button type="submit" tone="grave">
        Take it out of the book of this wheel
      </Button>
      <Button onClick={() => setAsking(false)}>Leave it</Button>
    </form>
  );
}

/** Says which component is in a slot, or that there is none. */
export function Identify({ view, slot }: { view: InspectionView; slot: Slot }) {
  const { write } = useWorkplace();
  const { may, why } = useMayAdd(view);
  const absent = view.state.absent.has(slot.slot);
  if (!may) return <Empty>{why}</Empty>;
  const enter = async (part: PartBody, { machineHours, partHours }: MeterBody) => {
    const id = newId();
    await write(kinds.componentDescribed, id, part);
    await write(kinds.componentFitted, id, {
      wheel: view.wheel.id,
      slot: slot.slot,
      on: null,
      machine: view.wheel.machine,
      machineHours,
      partHours,
    });
  };
  return (
    <div>
      <p>
        Nobody has said which {slot.slot} is fitted. Read the stamps; parts that are not identified cannot be
        passed.
      </p>
      {absent ? <Caution kind="note">Recorded as not found at the wheel.</Caution> : null}
      <PartForm
        kind={slot.kind}
        known={{ maker: view.wheel.maker, series: view.wheel.series }}
        meterOf={view.wheel.machine}
        words={`This is the ${slot.slot}`}
        onEnter={enter}
      />
      {absent ? null : (
        <p>
          <Button
            block
            onClick={() =>
              void write(kinds.partNotFound, view.state.id, {
                slot: slot.slot,
                componentKind: slot.kind,
                note: '',
              })
            }
          >
            There is none at the wheel
          </Button>
        </p>
      )}
    </div>
  );
}
