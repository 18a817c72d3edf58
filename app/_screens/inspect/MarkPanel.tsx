'use client';
import { useState } from 'react';
import type { FindMethod, Mark } from '../../../lib/marks/index.ts';
import { slotOf, ZoneId } from '../../../lib/wheel/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { Field } from '../../_ui/kit.tsx';
import { ClockField } from './DefectCard.tsx';
import { useMayAdd } from './Inspect.tsx';
import classes from './photo.module.css';
import { type Gauge, sizeOfMark } from './sizes.ts';

const METHODS: readonly FindMethod[] = ['visual', 'magnetic particle', 'penetrant', 'ultrasonic'];

/** What a mark says beside its shape: zone, clock position, how it was found, a note; and its size with the budget. */
export function MarkPanel({
  view,
  mark,
  gauge,
  onChange,
}: {
  view: InspectionView;
  mark: Mark;
  gauge: Gauge;
  onChange(after: Mark): void;
}) {
  const { may } = useMayAdd(view);
  const [open, setOpen] = useState(false);
  const [note, setNote] = useState(mark.note);
  const slot = [...view.parts].find(([, component]) => component.id === mark.component)?.[0];
  const zones =
    slot === undefined ? [] : (slotOf(view.construction, slot)?.zones.map(({ zone }) => zone) ?? []);
  const place = `${mark.zone}, ${mark.clock === null ? 'not placed' : `${mark.clock} o’clock`}`;
  return (
    <div className={classes.over}>
      <button type="button" className={classes.overHead} aria-expanded={open} onClick={() => setOpen(!open)}>
        <span>
          <b>{sizeOfMark(mark, gauge)}</b>
          <small>
            {place}, {mark.method}
          </small>
        </span>
        <span>{open ? 'Less' : 'More'}</span>
      </button>
      {open ? (
        <div className={classes.overBody}>
          <Size mark={mark} gauge={gauge} />
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

function Size({ mark, gauge }: { mark: Mark; gauge: Gauge }) {
  if (gauge === null) return <p className={classes.size}>Size not measured: this photo has no scale.</p>;
  const measured = gauge(mark);
  if (!measured.ok) {
    return (
      <p className={classes.size}>
        {measured.error.message}. {measured.error.wayOut}
      </p>
    );
  }
  const { quantity, contributions, mmPerPx } = measured.value;
  return (
    <div className={classes.size}>
      ± is U with k = 2. Mostly: {contributions[0]?.name}.
      <details className={classes.budget}>
        <summary>Where the uncertainty comes from</summary>
        <ul>
          {contributions.map((one) => (
            <li key={one.name}>
              {one.name}: u ={' '}
              {quantity === 'length' ? `${one.u.toFixed(2)} mm` : `${(one.u / 100).toFixed(2)} cm²`}
            </li>
          ))}
          <li>One pixel is {mmPerPx.toFixed(3)} mm at the mark.</li>
        </ul>
      </details>
    </div>
  );
}
