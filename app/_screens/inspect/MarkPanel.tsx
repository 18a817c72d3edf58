'use client';
import { useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import type { FindMethod, Mark } from '../../../lib/marks/index.ts';
import { slotOf, ZoneId } from '../../../lib/wheel/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { useUnits } from '../../_client/units.ts';
import { Field } from '../../_ui/kit.tsx';
import { CrackOpening, type ReadOpening } from './CrackOpening.tsx';
import { ClockField } from './DefectCard.tsx';
import { useMayAdd } from './Inspect.tsx';
import { MarkSize } from './MarkSize.tsx';
import { type Pull, PullPoints } from './PullPoints.tsx';
import classes from './photo.module.css';
import { ReadingFromPhoto } from './ReadingFromPhoto.tsx';
import { sizeOfMark } from './sizes.ts';
import type { Gauging } from './useGauging.ts';

const METHODS: readonly FindMethod[] = ['visual', 'magnetic particle', 'penetrant', 'ultrasonic'];

/** What a mark says beside its shape: zone, clock position, how it was found, a note; and its size with the budget. */
export function MarkPanel({
  view,
  mark,
  gauging,
  pull,
  readOpening,
  notSeen,
  onChange,
}: {
  view: InspectionView;
  mark: Mark;
  gauging: Gauging;
  pull: Pull;
  readOpening: ReadOpening;
  /** Why focus and light at the mark could not be told. */
  notSeen: Problem | null;
  onChange(after: Mark): void;
}) {
  const { may } = useMayAdd(view);
  const [units] = useUnits();
  const [open, setOpen] = useState(false);
  const [note, setNote] = useState(mark.note);
  const slot = [...view.parts].find(([, component]) => component.id === mark.component)?.[0];
  const slotInfo = slot === undefined ? undefined : slotOf(view.construction, slot);
  const zones = slotInfo?.zones.map(({ zone }) => zone) ?? [];
  const measured = gauging.gauge?.(mark);
  const place = `${mark.zone}, ${mark.clock === null ? 'not placed' : `${mark.clock} o’clock`}`;
  return (
    <div className={classes.over}>
      <button type="button" className={classes.overHead} aria-expanded={open} onClick={() => setOpen(!open)}>
        <span>
          <b>{sizeOfMark(mark, gauging.gauge, units)}</b>
          <small>
            {place}, {mark.method}
          </small>
        </span>
        <span>{open ? 'Less' : 'More'}</span>
      </button>
      {open ? (
        <div className={classes.overBody}>
          <MarkSize mark={mark} gauging={gauging} notSeen={notSeen} />
          <CrackOpening key={JSON.stringify(mark.shape)} mark={mark} gauging={gauging} read={readOpening} />
          {may && mark.shape.form === 'span' ? (
            <PullPoints
              points={mark.shape.ends}
              what="spans"
              pull={pull}
              onPoints={([a, b]) =>
                a === undefined || b === undefined
                  ? undefined
                  : onChange({ ...mark, shape: { form: 'span', ends: [[...a], [...b]] } })
              }
            />
          ) : null}
          {may && measured?.ok === true && mark.shape.form === 'span' && slotInfo !== undefined ? (
            <ReadingFromPhoto view={view} slot={slotInfo} mark={mark} measured={measured.value} />
          ) : null}
          {may ? (
            <div className={classes.panelRow}>
              <ClockField clock={mark.clock} onClock={(clock) => onChange({ ...mark, clock })} />
              <Field label="Zone">
                <select
                  value={mark.zone}
                  onChange={(event) => onChange({ ...mark, zone: ZoneId.parse(event.target.value) })}
                >
                  {zones.map((zone) => (
                    <option key={zone}>{zone}</option>
                  ))}
                </select>
              </Field>
              <Field label="Found by">
                <select
                  value={mark.method}
                  onChange={(event) => onChange({ ...mark, method: event.target.value as FindMethod })}
                >
                  {METHODS.map((method) => (
                    <option key={method}>{method}</option>
                  ))}
                </select>
              </Field>
              <Field label="Note">
                <input
                  value={note}
                  onChange={(event) => setNote(event.target.value)}
                  onBlur={() => note !== mark.note && onChange({ ...mark, note })}
                />
              </Field>
            </div>
          ) : (
            <p>{mark.note}</p>
          )}
        </div>
      ) : null}
    </div>
  );
}
