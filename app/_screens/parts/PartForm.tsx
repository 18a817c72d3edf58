'use client';
import { type FormEvent, useState } from 'react';
import type { z } from 'zod';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { type kinds, type Made, MadeOn } from '../../../lib/record/index.ts';
import { parseTypedHours } from '../../../lib/units/index.ts';
import type { ComponentKind } from '../../../lib/wheel/index.ts';
import { takePhoto } from '../../_client/photos.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Choice, Field, ProblemNote } from '../../_ui/kit.tsx';
import { PhotoThumb } from '../../_ui/PhotoThumb.tsx';

export type PartBody = z.input<typeof kinds.componentDescribed.body>;
/** What was on the meter and on the part when it was fitted; null: not said. */
export interface MeterBody {
  readonly machineHours: number | null;
  readonly partHours: number | null;
}

const HOWS = ['known', 'estimated', 'unknown'] as const;
const HOW_WORDS = { known: 'Stamped', estimated: 'Estimated', unknown: 'Nobody knows' } as const;
const NO_HOURS: MeterBody = { machineHours: null, partHours: null };

interface Props {
  readonly kind: ComponentKind;
  readonly known: Partial<PartBody>;
  /** The machine whose meter is asked for; null: the part is not being fitted. */
  readonly meterOf: string | null;
  readonly words: string;
  onEnter(part: PartBody, meter: MeterBody): Promise<void>;
}

/** What a part is, as far as its stamps say: never with an age left blank. */
export function PartForm({ kind, known, meterOf, words, onEnter }: Props) {
  const [text, setText] = useState({
    maker: known.maker ?? '',
    series: known.series ?? '',
    stamp: known.stamp ?? '',
    partNumber: known.partNumber ?? '',
    serial: known.serial ?? '',
    dateCode: known.dateCode ?? '',
  });
  const [how, setHow] = useState<Made['how'] | null>(known.made?.how ?? null);
  const [made, setMade] = useState(madeText(known.made));
  const [unreadable, setUnreadable] = useState(known.identity === 'cannot be identified');
  const [photo, setPhoto] = useState(known.stampPhoto ?? null);
  const [hours, setHours] = useState({ machine: '', part: '' });
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const age = madeOf(how, made);
    if ('code' in age) return setWrong(age);
    const meter = meterOf === null ? NO_HOURS : hoursOf(hours);
    if ('code' in meter) return setWrong(meter);
    if (!unreadable && text.stamp === '' && text.serial === '' && text.partNumber === '') {
      return setWrong(
        problem(
          'part-stamps',
          'stamp',
          '',
          'No stamp is entered',
          'Enter what is stamped on it, or say that it cannot be identified.',
        ),
      );
    }
    setBusy(true);
    const identity = unreadable ? 'cannot be identified' : 'identified';
    await onEnter({ componentKind: kind, ...text, made: age, stampPhoto: photo, identity }, meter);
    setBusy(false);
  };
  const field = (name: keyof typeof text, label: string, hint?: string) => (
    <Field label={label} {...(hint === undefined ? {} : { hint })}>
      <input
        value={text[name]}
        maxLength={80}
        autoComplete="off"
        onChange={(event) => setText({ ...text, [name]: event.target.value })}
      />
    </Field>
  );
  return (
    <form onSubmit={(event) => void submit(event)}>
      {field('maker', 'Maker as stamped')}
      {field('series', 'Series')}
      {field('stamp', 'Stamp', 'All of it, as read')}
      {field('partNumber', 'Part number')}
      {field('serial', 'Serial number')}
      {field('dateCode', 'Date code', 'As stamped, also where nobody knows what it means')}
      <StampPhoto photo={photo} onPhoto={setPhoto} onProblem={setWrong} />
      <Field label="It cannot be identified" hint="Somebody looked, and its stamps do not say what it is">
        <input
          type="checkbox"
          checked={unreadable}
          onChange={(event) => setUnreadable(event.target.checked)}
        />
      </Field>
      <Choice legend="When it was made" options={HOWS} words={HOW_WORDS} value={how} onChoose={setHow} />
      {how === 'known' ? (
        <MonthField label="Made in" value={made.on} onValue={(on) => setMade({ ...made, on })} />
      ) : null}
      {how === 'estimated' ? (
        <>
          <MonthField
            label="Not before"
            value={made.notBefore}
            onValue={(notBefore) => setMade({ ...made, notBefore })}
          />
          <MonthField
            label="Not after"
            value={made.notAfter}
            onValue={(notAfter) => setMade({ ...made, notAfter })}
          />
          <Field label="How you know">
            <input
              value={made.basis}
              maxLength={200}
              onChange={(event) => setMade({ ...made, basis: event.target.value })}
            />
          </Field>
        </>
      ) : null}
      {meterOf === null ? null : (
        <>
          <Field
            label={meterOf === '' ? 'Meter of the machine, hours' : `Meter of ${meterOf}, hours`}
            hint="Leave empty when it is not read: hours on duty are then not counted"
          >
            <input
              inputMode="numeric"
              value={hours.machine}
              onChange={(event) => setHours({ ...hours, machine: event.target.value })}
            />
          </Field>
          <Field
            label="Hours on duty that the part has already"
            hint="0 for a new one; empty when nobody knows"
          >
            <input
              inputMode="numeric"
              value={hours.part}
              onChange={(event) => setHours({ ...hours, part: event.target.value })}
            />
          </Field>
        </>
      )}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button type="submit" tone="act" block disabled={busy}>
        {words}
      </Button>
    </form>
  );
}

function MonthField({
  label,
  value,
  onValue,
}: {
  label: string;
  value: string;
  onValue(value: string): void;
}) {
  return (
    <Field label={label} hint="A year such as 2019, or year and month such as 2019-04">
      <input
        value={value}
        inputMode="numeric"
        autoComplete="off"
        onChange={(event) => onValue(event.target.value.trim())}
      />
    </Field>
  );
}

function StampPhoto({
  photo,
  onPhoto,
  onProblem,
}: {
  photo: string | null;
  onPhoto(sha256: string): void;
  onProblem(problem: Problem): void;
}) {
  const { store, site } = useWorkplace();
  const take = async (files: FileList | null) => {
    const file = files?.[0];
    if (file === undefined) return;
    const taken = await takePhoto(store, site.id, file, () => undefined);
    if (!taken.ok) return onProblem(taken.error);
    if (taken.value.problem !== null) return onProblem(taken.value.problem);
    onPhoto(taken.value.sha256);
  };
  return (
    <>
      {photo === null ? null : <PhotoThumb sha256={photo} name="the stamps" />}
      <Field label="Photo of the stamps">
        <input type="file" accept="image/*" onChange={(event) => void take(event.target.files)} />
      </Field>
    </>
  );
}

interface MadeText {
  readonly on: string;
  readonly notBefore: string;
  readonly notAfter: string;
  readonly basis: string;
}

function madeText(made: Made | undefined): MadeText {
  const none = { on: '', notBefore: '', notAfter: '', basis: '' };
  if (made === undefined || made.how === 'unknown') return none;
  return made.how === 'known'
    ? { ...none, on: made.on }
    : { ...none, notBefore: made.notBefore, notAfter: made.notAfter, basis: made.basis };
}

/** The age as typed, or what is wrong with it. */
function madeOf(how: Made['how'] | null, { on, notBefore, notAfter, basis }: MadeText): Made | Problem {
  const wrong = (field: string, value: string, message: string, wayOut: string) =>
    problem('part-made', field, value, message, wayOut);
  if (how === null)
    return wrong(
      'when it was made',
      '',
      'Nothing is said about its age',
      'Choose one; “Nobody knows” is an answer.',
    );
  if (how === 'unknown') return { how };
  const dates = how === 'known' ? { 'made in': on } : { 'not before': notBefore, 'not after': notAfter };
  for (const [field, value] of Object.entries(dates)) {
    if (!MadeOn.safeParse(value).success)
      return wrong(field, value, 'This is no year, month or day', 'Type 2019 or 2019-04.');
  }
  if (how === 'known') return { how, on };
  if (notAfter.slice(0, 4) < notBefore.slice(0, 4))
    return wrong('not after', notAfter, 'The latest date lies before the earliest', 'Swap them.');
  if (basis.trim() === '')
    return wrong('how you know', '', 'An estimate has a reason', 'Say what it rests on.');
  return { how, notBefore, notAfter, basis: basis.trim() };
}

function hoursOf({ machine, part }: { machine: string; part: string }): MeterBody | Problem {
  const read = (typed: string, field: string) => (typed.trim() === '' ? null : parseTypedHours(typed, field));
  const [machineHours, partHours] = [read(machine, 'meter'), read(part, 'hours on duty')];
  if (machineHours?.ok === false) return machineHours.error;
  if (partHours?.ok === false) return partHours.error;
  return { machineHours: machineHours?.value ?? null, partHours: partHours?.value ?? null };
}
