'use client';
import { type FormEvent, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { problem } from '../../../lib/base/index.ts';
import { type ComponentState, kinds } from '../../../lib/record/index.ts';
import { parseTypedHours } from '../../../lib/units/index.ts';
import type { Slot, ZoneId } from '../../../lib/wheel/index.ts';
import { now } from '../../_client/device.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Choice, Empty, Field, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import classes from './inspect.module.css';
import { ZoneChoice } from './ZoneChoice.tsx';

type Method = 'magnetic particle' | 'penetrant' | 'ultrasonic';

/** Records of non-destructive tests of a part; a look or a photo never stands in for one. */
export function TestCard({
  view,
  slot,
  component,
}: {
  view: InspectionView;
  slot: Slot;
  component: ComponentState;
}) {
  const [adding, setAdding] = useState(false);
  return (
    <Card
      title="Tests"
      aside={adding ? null : <Button onClick={() => setAdding(true)}>Record a test</Button>}
    >
      {component.tests.length === 0 ? (
        <Empty>
          No test of this part is on record. A look or a photo never closes a test that the limits ask for.
        </Empty>
      ) : null}
      <ul className={list.list}>
        {component.tests.map((test) => (
          <li key={test.entry} className={list.row}>
            <span className={list.main}>
              <b>{test.method}</b>, {test.on}: {test.result}
              <small>
                {test.zones.join(', ')}. {test.standard}, {test.testedBy}
              </small>
            </span>
          </li>
        ))}
      </ul>
      {adding ? (
        <TestForm view={view} slot={slot} component={component} onDone={() => setAdding(false)} />
      ) : null}
    </Card>
  );
}

function TestForm({
  view,
  slot,
  component,
  onDone,
}: {
  view: InspectionView;
  slot: Slot;
  component: ComponentState;
  onDone(): void;
}) {
  const { write } = useWorkplace();
  const [method, setMethod] = useState<Method>('magnetic particle');
  const [zones, setZones] = useState<readonly ZoneId[]>([]);
  const [result, setResult] = useState<'no indication' | 'indication' | null>(null);
  const [standard, setStandard] = useState('');
  const [testedBy, setTestedBy] = useState('');
  const [on, setOn] = useState(() => now().slice(0, 10));
  const [surface, setSurface] = useState('');
  const [hours, setHours] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (zones.length === 0)
      return setWrong(
        problem('test-zones', 'zones', '', 'No zone is chosen', 'Choose the zones the test covered.'),
      );
    if (result === null)
      return setWrong(
        problem('test-result', 'result', '', 'No result is chosen', 'Choose what the test showed.'),
      );
    if (on > now().slice(0, 10))
      return setWrong(
        problem('test-date', 'date', on, 'The test lies in the future', 'Enter the day it was done.'),
      );
    const dutyHours = hours.trim() === '' ? null : parseTypedHours(hours, 'hours on duty');
    if (dutyHours !== null && !dutyHours.ok) return setWrong(dutyHours.error);
    await write(kinds.testRecorded, component.id, {
      method,
      zones: [...zones],
      result,
      standard,
      testedBy,
      on,
      surface,
      inspection: view.state.id,
      dutyHours: dutyHours === null ? null : dutyHours.value,
    });
    onDone();
  };
  return (
    <form onSubmit={submit}>
      <Choice
        legend="Method"
        options={['magnetic particle', 'penetrant', 'ultrasonic']}
        value={method}
        onChoose={setMethod}
      />
      <ZoneChoice
        legend="Zones covered"
        zones={slot.zones.map(({ zone }) => zone)}
        chosen={zones}
        onChoose={setZones}
      />
      <Choice legend="Result" options={['no indication', 'indication']} value={result} onChoose={setResult} />
      <Field label="Procedure or standard" hint="Such as ASTM E709">
        <input required value={standard} onChange={(event) => setStandard(event.target.value)} />
      </Field>
      <Field label="Tested by, with grade">
        <input required value={testedBy} onChange={(event) => setTestedBy(event.target.value)} />
      </Field>
      <Field label="Day of the test">
        <input type="date" required value={on} onChange={(event) => setOn(event.target.value)} />
      </Field>
      <Field label="Hours on duty of the part then" hint="Leave empty when nobody knows">
        <input inputMode="numeric" value={hours} onChange={(event) => setHours(event.target.value)} />
      </Field>
      <Field label="State of the surface">
        <input value={surface} onChange={(event) => setSurface(event.target.value)} />
      </Field>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <div className={classes.tools}>
        <Button type="submit" tone="act">
          Record the test
        </Button>
        <Button onClick={onDone}>Cancel</Button>
      </div>
    </form>
  );
}
