'use client';
import { type FormEvent, useState } from 'react';
import type { DefectKind, FindMethod } from '../../../lib/marks/index.ts';
import { type ComponentState, kinds } from '../../../lib/record/index.ts';
import type { ZoneId } from '../../../lib/wheel/index.ts';
import { newId } from '../../_client/device.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Choice, Empty, Field } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { Withdraw } from '../../_ui/Withdraw.tsx';
import { useEffectOf } from './effect.ts';
import { useMayAdd } from './Inspect.tsx';
import classes from './inspect.module.css';

const DEFECTS: readonly DefectKind[] = ['crack', 'corrosion', 'pitting', 'wear', 'bent', 'broken', 'other'];
const METHODS: readonly FindMethod[] = ['visual', 'magnetic particle', 'penetrant', 'ultrasonic'];

interface Props {
  readonly view: InspectionView;
  readonly slot: string;
  readonly component: ComponentState;
  readonly zone: ZoneId;
}

/** Defects of a zone: those marked on photos and those noted without one. */
export function DefectCard({ view, slot, component, zone }: Props) {
  const { write } = useWorkplace();
  const place = usePlace();
  const { may } = useMayAdd(view);
  const [adding, setAdding] = useState(false);
  const here = <T extends { component: string; zone: string }>({ value }: { value: T }) =>
    value.component === component.id && value.zone === zone;
  const marks = [...view.state.marks.values()].filter(here).filter(({ value }) => value.defect !== null);
  const noted = [...view.state.defects.values()].filter(here);
  return (
    <Card
      title={`Defects (${marks.length + noted.length})`}
      aside={may && !adding ? <Button onClick={() => setAdding(true)}>Note one</Button> : null}
    >
      {marks.length + noted.length === 0 && !adding ? (
        <Empty>
          None recorded. Mark a defect on its photo to measure it; note one here where there is no photo.
        </Empty>
      ) : null}
      <ul className={list.list}>
        {marks.map(({ value }) => (
          <li key={value.mark}>
            <button type="button" className={list.row} onClick={() => place.go({ photo: value.photo })}>
              <span className={list.main}>
                <b>{value.defect}</b>, on a photo
                <small>
                  {value.clock === null ? 'no clock position' : `${value.clock} o'clock`}, {value.method}.{' '}
                  {value.note}
                </small>
              </span>
            </button>
          </li>
        ))}
        {noted.map(({ value }) => (
          <li key={value.defectId} className={list.row}>
            <span className={list.main}>
              <b>{value.defect}</b>, no photo
              <small>
                {value.clock === null ? 'no clock position' : `${value.clock} o'clock`}, {value.method}.{' '}
                {value.note}
              </small>
            </span>
            {may ? (
              <Withdraw
                what={`this ${value.defect}`}
                onWithdraw={(reason) =>
                  void write(kinds.defectWithdrawn, view.state.id, { defectId: value.defectId, reason })
                }
              />
            ) : null}
          </li>
        ))}
      </ul>
      {adding ? (
        <NoteDefect
          view={view}
          slot={slot}
          component={component}
          zone={zone}
          onDone={() => setAdding(false)}
        />
      ) : null}
    </Card>
  );
}

function NoteDefect({ view, slot, component, zone, onDone }: Props & { onDone(): void }) {
  const { write } = useWorkplace();
  const [defect, setDefect] = useState<DefectKind | null>(null);
  const [method, setMethod] = useState<FindMethod>('visual');
  const [clock, setClock] = useState<number | null>(null);
  const [note, setNote] = useState('');
  const body = (defectId: string) =>
    defect === null ? null : { defectId, component: component.id, zone, clock, defect, method, note };
  const effect = useEffectOf(view, slot, kinds.defectNoted, body('00000000-0000-4000-8000-000000000000'));
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const made = body(newId());
    if (made === null) return;
    await write(kinds.defectNoted, view.state.id, made);
    onDone();
  };
  return (
    <form onSubmit={submit}>
      <Choice legend="Defect" options={DEFECTS} value={defect} onChoose={setDefect} />
      <Choice legend="Found by" options={METHODS} value={method} onChoose={setMethod} />
      <ClockField clock={clock} onClock={setClock} />
      <Field label="Note">
        <textarea rows={2} value={note} onChange={(event) => setNote(event.target.value)} />
      </Field>
      <p className={classes.effect}>{effect?.text ?? ''}</p>
      <div className={classes.tools}>
        <Button type="submit" tone="act" disabled={defect === null}>
          Note the defect
        </Button>
        <Button onClick={onDone}>Cancel</Button>
      </div>
    </form>
  );
}

/** A clock position, or none. */
export function ClockField({
  clock,
  onClock,
}: {
  clock: number | null;
  onClock(clock: number | null): void;
}) {
  return (
    <Field label="Clock position" hint="Seen from the gutter side, valve at 12">
      <select
        value={clock ?? ''}
        onChange={(event) => onClock(event.target.value === '' ? null : Number(event.target.value))}
      >
        <option value="">not placed</option>
        {Array.from({ length: 24 }, (_, i) => (i + 1) / 2).map((one) => (
          <option key={one} value={one}>
            {one} o’clock
          </option>
        ))}
      </select>
    </Field>
  );
}
