'use client';
import { useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import type { Mark } from '../../../lib/marks/index.ts';
import type { PhotoMeasure } from '../../../lib/photo/index.ts';
import { characteristics, readTyped } from '../../../lib/readings/index.ts';
import { kinds } from '../../../lib/record/index.ts';
import type { RingState, Slot } from '../../../lib/wheel/index.ts';
import { newId } from '../../_client/device.ts';
import { useWriting } from '../../_client/hand.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { Button, Field, ProblemNote } from '../../_ui/kit.tsx';
import { useEffectOf } from './effect.ts';
import classes from './photo.module.css';

/** Stands for the reading in what would be, before there is one. */
const TRIAL_READING = '00000000-0000-4000-8000-000000000000';

/**
 * Makes a reading of a length measured on a photo, on purpose and never by itself. Whether it counts is for the limits:
 * the line below the choice says what it would do to the verdict.
 */
export function ReadingFromPhoto({
  view,
  slot,
  mark,
  measured,
}: {
  view: InspectionView;
  slot: Slot;
  mark: Mark;
  measured: PhotoMeasure;
}) {
  const write = useWriting(view);
  const offered = characteristics.filter(
    (one) => one.takenFrom === 'gauge' && (one.zones[slot.kind]?.includes(mark.zone) ?? false),
  );
  const [chosen, setChosen] = useState('');
  const [state, setState] = useState<RingState | ''>('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const characteristic = offered.find((one) => one.id === chosen);
  const typed = `${measured.value.toFixed(1)} mm`;
  const before = [...view.state.readings.values()].find(
    ({ value }) => value.fromPhoto?.mark === mark.mark,
  )?.value;
  const repeat =
    1 +
    [...view.state.readings.values()].filter(
      ({ value }) =>
        value.component === mark.component &&
        value.characteristic === chosen &&
        value.zone === mark.zone &&
        value.clock === mark.clock,
    ).length;
  const read = characteristic === undefined ? null : readTyped(characteristic.id, typed, 'mm', false);
  const body =
    characteristic === undefined || read?.ok !== true || (characteristic.states.length > 0 && state === '')
      ? null
      : {
          reading: TRIAL_READING,
          component: mark.component,
          characteristic: characteristic.id,
          zone: mark.zone,
          clock: mark.clock,
          state: state === '' ? null : state,
          typed,
          defaultUnit: 'mm' as const,
          valueMm: read.value.valueMm,
          instrument: null,
          repeat,
          confirmed: read.value.question !== null,
          overlap: false,
          fromPhoto: { photo: mark.photo, mark: mark.mark, uMm: measured.u },
        };
  const effect = useEffectOf(view, slot.slot, kinds.readingEntered, body);
  if (offered.length === 0) return null;
  if (before !== undefined) {
    return (
      <p className={classes.size}>Entered as a reading: {before.typed}. Withdraw it in the zone’s table.</p>
    );
  }
  const enter = async () => {
    if (characteristic === undefined || body === null) return;
    if (read?.ok === false) return setWrong(read.error);
    await write(kinds.readingEntered, { ...body, reading: newId() });
  };
  return (
    <div className={classes.panelRow}>
      <Field
        label={`Enter ${typed} as a reading of`}
        hint="From a photo; the limits say whether a photo counts"
      >
        <select value={chosen} onChange={(event) => setChosen(event.target.value)}>
          <option value="">choose …</option>
          {offered.map((one) => (
            <option key={one.id} value={one.id}>
              {one.label}
            </option>
          ))}
        </select>
      </Field>
      {characteristic !== undefined && characteristic.states.length > 0 ? (
        <Field label="The ring is">
          <select value={state} onChange={(event) => setState(event.target.value as RingState | '')}>
            <option value="">choose …</option>
            {characteristic.states.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </Field>
      ) : null}
      {body === null ? null : (
        <div>
          <p className={classes.size}>
            {read?.ok === true && read.value.question !== null ? `${read.value.question} ` : ''}
            {effect?.text ?? ''}
          </p>
          <Button tone="act" onClick={() => void enter()}>
            Enter the reading
          </Button>
        </div>
      )}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
    </div>
  );
}
