'use client';
import { type FormEvent, useState } from 'react';
import type { z } from 'zod';
import type { Problem } from '../../../lib/base/index.ts';
import { type Characteristic, type Reading, type ReadText, readTyped } from '../../../lib/readings/index.ts';
import { kinds } from '../../../lib/record/index.ts';
import type { RingState, ZoneId } from '../../../lib/wheel/index.ts';
import { newId } from '../../_client/device.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { useDraft } from '../../_client/useDraft.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, ProblemNote } from '../../_ui/kit.tsx';
import { Withdraw } from '../../_ui/Withdraw.tsx';
import { type Effect, useEffectOf } from './effect.ts';
import { useMayAdd } from './Inspect.tsx';
import classes from './inspect.module.css';

interface RowProps {
  readonly view: InspectionView;
  readonly slot: string;
  readonly component: string;
  readonly characteristic: Characteristic;
  readonly zone: ZoneId;
  readonly place: { readonly clock: number | null; readonly state: RingState | null };
  readonly unit: 'mm' | 'in';
  readonly instrument: string | null;
  /** True while the safety gate keeps hands off. */
  readonly closed: boolean;
  readonly taken: readonly Reading[];
}

/** Stands for the reading in what would be, before there is one. */
const TRIAL_READING = '00000000-0000-4000-8000-000000000000';

type Body = z.input<typeof kinds.readingEntered.body>;

/** One place to measure: what was entered there, a field for what comes next, and what that would do to the verdict. */
export function ReadingRow(props: RowProps) {
  const { place, taken, characteristic } = props;
  const { write } = useWorkplace();
  const { may } = useMayAdd(props.view);
  const [editing, setEditing] = useState<Reading | 'repeat' | null>(null);
  const name = place.state ?? (place.clock === null ? 'Value' : `${place.clock} o’clock`);
  return (
    <div className={classes.reading}>
      {taken.map((reading) => (
        <div className={classes.readingLine} key={reading.reading}>
          <span className={classes.place}>{name}</span>
          <span className={classes.value}>
            {reading.typed}
            {/[a-z"″]/i.test(reading.typed) ? '' : ` ${reading.defaultUnit}`}
            {reading.overlap ? ' overlap' : ''}
          </span>
          <span className={classes.tools}>
            <Button onClick={() => setEditing(editing === reading ? null : reading)}>Change</Button>
            {may ? (
              <Withdraw
                what={`the reading ${reading.typed}`}
                onWithdraw={(reason) =>
                  void write(kinds.readingWithdrawn, props.view.state.id, {
                    reading: reading.reading,
                    reason,
                  })
                }
              />
            ) : null}
          </span>
        </div>
      ))}
      {taken.length === 0 || editing !== null ? (
        <Entry
          {...props}
          name={name}
          corrects={typeof editing === 'object' ? editing : null}
          onDone={() => setEditing(null)}
        />
      ) : (
        <div className={classes.tools}>
          <Button onClick={() => setEditing('repeat')}>Repeat</Button>
        </div>
      )}
      {characteristic.states.length > 0 && place.state === 'inflated' ? (
        <p className={classes.effect}>From outside the trajectory; do not touch the ring.</p>
      ) : null}
    </div>
  );
}

function Entry({
  name,
  corrects,
  onDone,
  ...row
}: RowProps & { name: string; corrects: Reading | null; onDone(): void }) {
  const { write } = useWorkplace();
  const { may, why } = useMayAdd(row.view);
  const { place, characteristic, unit } = row;
  const draftKey = [
    'reading',
    row.view.state.id,
    row.component,
    characteristic.id,
    row.zone,
    place.clock,
    place.state,
    corrects?.reading,
  ].join('|');
  const [typed, type] = useDraft(draftKey);
  const [overlap, setOverlap] = useState(corrects?.overlap ?? place.state === 'free');
  const [shown, setShown] = useState<Problem | null>(null);
  const [asked, setAsked] = useState<string | null>(null);
  const change = (text: string) => {
    setShown(null);
    setAsked(null);
    void type(text);
  };
  const read = typed.trim() === '' ? null : readTyped(characteristic.id, typed, unit, overlap);
  const body =
    read?.ok === true ? bodyOf(row, corrects, TRIAL_READING, typed, overlap, read.value, true) : null;
  const effect = useEffectOf(
    row.view,
    row.slot,
    corrects === null ? kinds.readingEntered : kinds.readingCorrected,
    body,
  );
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const result = readTyped(characteristic.id, typed, unit, overlap);
    if (!result.ok) return setShown(result.error);
    if (result.value.question !== null && asked !== typed) return setAsked(typed);
    const kind = corrects === null ? kinds.readingEntered : kinds.readingCorrected;
    await write(
      kind,
      row.view.state.id,
      bodyOf(row, corrects, newId(), typed, overlap, result.value, asked === typed),
    );
    await type('');
    setAsked(null);
    onDone();
  };
  if (row.closed) return <Line name={name} text="Closed until the safety gate is passed" />;
  if (!may) return <Line name={name} text={why} />;
  return (
    <form onSubmit={submit}>
      <div className={classes.readingLine}>
        <span className={classes.place}>{name}</span>
        <input
          aria-label={`${characteristic.label}, ${name}`}
          aria-invalid={shown !== null}
          value={typed}
          onChange={(event) => change(event.target.value)}
          placeholder={corrects === null ? unit : corrects.typed}
          inputMode={unit === 'mm' ? 'decimal' : 'text'}
          autoComplete="off"
        />
        <Button type="submit" tone="act" disabled={typed.trim() === ''}>
          {asked === typed && typed !== '' ? 'It is right' : 'Enter'}
        </Button>
      </div>
      {characteristic.plausible.min < 0 ? (
        <label className={classes.check}>
          <input type="checkbox" checked={overlap} onChange={(event) => setOverlap(event.target.checked)} />{' '}
          The ends overlap by this much
        </label>
      ) : null}
      <EffectLine
        effect={effect}
        question={asked === typed && read?.ok === true ? read.value.question : null}
      />
      {shown === null ? null : <ProblemNote problem={shown} />}
    </form>
  );
}

function bodyOf(
  row: RowProps,
  corrects: Reading | null,
  id: string,
  typed: string,
  overlap: boolean,
  read: ReadText,
  confirmed: boolean,
): Body {
  return {
    reading: corrects?.reading ?? id,
    component: row.component,
    characteristic: row.characteristic.id,
    zone: row.zone,
    clock: row.place.clock,
    state: row.place.state,
    typed: typed.trim(),
    defaultUnit: row.unit,
    valueMm: read.valueMm,
    instrument: row.instrument === '' ? null : row.instrument,
    repeat: corrects?.repeat ?? row.taken.length + 1,
    confirmed: confirmed && read.question !== null,
    overlap: row.characteristic.plausible.min < 0 && overlap,
  };
}

function Line({ name, text }: { name: string; text: string }) {
  return (
    <div className={classes.readingLine}>
      <span className={classes.place}>{name}</span>
      <span>{text}</span>
    </div>
  );
}

function EffectLine({ effect, question }: { effect: Effect | null; question: string | null }) {
  if (question !== null) {
    return (
      <p className={classes.effect} role="alert">
        <strong>{question}</strong> If it is, press Enter and then “It is right”.
      </p>
    );
  }
  return <p className={classes.effect}>{effect === null ? '' : effect.text}</p>;
}
