'use client';
import { type FormEvent, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { type ComponentState, kinds } from '../../../lib/record/index.ts';
import { constructions, type ZoneId } from '../../../lib/wheel/index.ts';
import { now } from '../../_client/device.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Empty, Field, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import classes from '../inspect/inspect.module.css';
import { ZoneChoice } from '../inspect/ZoneChoice.tsx';

/** Repairs of a part on record, and the way to record one. */
export function Repairs({ part }: { part: ComponentState }) {
  const { has } = useWorkplace();
  const [adding, setAdding] = useState(false);
  const may = part.mergedInto === null && (has('inspector') || has('lead'));
  return (
    <Card
      title="Repairs"
      aside={adding || !may ? null : <Button onClick={() => setAdding(true)}>Record a repair</Button>}
    >
      {part.repairs.length === 0 ? <Empty>No repair of this part is on record.</Empty> : null}
      <ul className={list.list}>
        {part.repairs.map((repair) => (
          <li key={repair.entry} className={list.row}>
            <span className={list.main}>
              <b>{repair.on}</b> {repair.what}
              <small>
                {repair.zones.join(', ')}. {repair.procedure || 'No procedure was named'}, {repair.by}
              </small>
            </span>
          </li>
        ))}
      </ul>
      {adding ? <RepairForm part={part} onDone={() => setAdding(false)} /> : null}
    </Card>
  );
}

/** Zones that parts of a kind have, over all constructions. */
function zonesOf(kind: ComponentState['componentKind']): ZoneId[] {
  const all = constructions.flatMap(({ slots }) => slots.filter((slot) => slot.kind === kind));
  return [...new Set(all.flatMap(({ zones }) => zones.map(({ zone }) => zone)))];
}

function RepairForm({ part, onDone }: { part: ComponentState; onDone(): void }) {
  const { write } = useWorkplace();
  const [zones, setZones] = useState<readonly ZoneId[]>([]);
  const [what, setWhat] = useState('');
  const [procedure, setProcedure] = useState('');
  const [by, setBy] = useState('');
  const [on, setOn] = useState(() => now().slice(0, 10));
  const [wrong, setWrong] = useState<Problem | null>(null);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (zones.length === 0)
      return setWrong(
        problem('repair-zones', 'zones', '', 'No zone is chosen', 'Choose the zones that were repaired.'),
      );
    if (on > now().slice(0, 10))
      return setWrong(
        problem('repair-date', 'day', on, 'The repair lies in the future', 'Enter the day it was done.'),
      );
    await write(kinds.repairRecorded, part.id, {
      zones: [...zones],
      what: what.trim(),
      procedure: procedure.trim(),
      by: by.trim(),
      on,
    });
    onDone();
  };
  return (
    <form onSubmit={submit}>
      <Caution>
        Some codes forbid welding, brazing or heating of rim parts altogether. Never weld or heat one with a
        tyre or air on it. Repairs are for a facility qualified for them, under the maker’s procedure and the
        local code. A recorded repair closes no finding: inspect the part again before it goes back.
      </Caution>
      <ZoneChoice
        legend="Zones repaired"
        zones={zonesOf(part.componentKind)}
        chosen={zones}
        onChoose={setZones}
      />
      <Field label="What was done">
        <input required maxLength={500} value={what} onChange={(event) => setWhat(event.target.value)} />
      </Field>
      <Field label="Procedure or standard followed" hint="Leave empty when none was named">
        <input maxLength={120} value={procedure} onChange={(event) => setProcedure(event.target.value)} />
      </Field>
      <Field label="Facility, or person with grade">
        <input required maxLength={120} value={by} onChange={(event) => setBy(event.target.value)} />
      </Field>
      <Field label="Day of the repair">
        <input type="date" required value={on} onChange={(event) => setOn(event.target.value)} />
      </Field>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <div className={classes.tools}>
        <Button type="submit" tone="act">
          Record the repair
        </Button>
        <Button onClick={onDone}>Cancel</Button>
      </div>
    </form>
  );
}
