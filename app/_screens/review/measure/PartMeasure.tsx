'use client';
import { useState } from 'react';
import { characteristicOf } from '../../../../lib/readings/index.ts';
import { type Call, kinds, readingPlaceKey } from '../../../../lib/record/index.ts';
import type { AskedReading } from '../../../../lib/review/index.ts';
import { useWriting } from '../../../_client/hand.ts';
import type { InspectionView } from '../../../_client/inspection.ts';
import { Choice, Empty, Field } from '../../../_ui/kit.tsx';
import classes from '../review.module.css';
import { ReadAgain } from './ReadAgain.tsx';

export const CALLS: readonly Call[] = ['keep', 'repair', 'scrap', 'hold'];

interface Props {
  readonly view: InspectionView;
  readonly slot: string;
  readonly component: string;
  readonly asked: readonly AskedReading[];
  readonly seenIn: string | null;
  /** A place is being read: its photo is wanted. */
  onPlace(asked: AskedReading): void;
}

/** The readings of one part to read again, and one's own call on it. */
export function PartMeasure({ view, slot, component, asked, seenIn, onPlace }: Props) {
  const own = new Map(
    [...view.state.readings.values()].map(({ value }) => [readingPlaceKey(value), value] as const),
  );
  // What a photo was taken of at its place comes first: there a gauge may be read.
  const shown = new Set([...view.state.photos.values()].map(({ value }) => `${value.zone}|${value.clock}`));
  const unseen = ({ zone, clock }: AskedReading) => (shown.has(`${zone}|${clock}`) ? 0 : 1);
  const places = [...new Map(asked.map((one) => [readingPlaceKey(one), one])).values()].sort(
    (a, b) =>
      unseen(a) - unseen(b) ||
      a.characteristic.localeCompare(b.characteristic) ||
      (a.state ?? '').localeCompare(b.state ?? '') ||
      (a.clock ?? 0) - (b.clock ?? 0),
  );
  const characteristics = [...new Set(places.map(({ characteristic }) => characteristic))];
  return (
    <>
      {places.length === 0 ? <Empty>The inspector entered no reading of this part.</Empty> : null}
      {places.length === 0 ? null : <p>What the photos do not show stays blank.</p>}
      {characteristics.map((id) => (
        <fieldset key={id} className={classes.reads}>
          <legend>{characteristicOf(id).label}</legend>
          {places
            .filter(({ characteristic }) => characteristic === id)
            .map((one) => (
              <ReadAgain
                key={readingPlaceKey(one)}
                view={view}
                asked={one}
                own={own.get(readingPlaceKey(one))}
                seenIn={seenIn}
                onPlace={onPlace}
              />
            ))}
        </fieldset>
      ))}
      <OwnCall view={view} slot={slot} component={component} />
    </>
  );
}

function OwnCall({ view, slot, component }: Pick<Props, 'view' | 'slot' | 'component'>) {
  const write = useWriting(view);
  const made = view.state.calls.get(component)?.value;
  const [reason, setReason] = useState(made?.reason ?? '');
  const call = (value: Call, why = reason.trim()) =>
    void write(kinds.callMade, { component, call: value, reason: why });
  return (
    <>
      <Choice
        legend={`Your call on the ${slot}`}
        options={CALLS}
        value={made?.call ?? null}
        onChoose={(value) => call(value)}
      />
      <Field label="Why">
        <input
          data-why=""
          value={reason}
          maxLength={2000}
          onChange={(event) => setReason(event.target.value)}
          onBlur={() => made !== undefined && reason.trim() !== made.reason && call(made.call)}
        />
      </Field>
    </>
  );
}
