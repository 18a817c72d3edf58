'use client';
import { useState } from 'react';
import { characteristicOf } from '../../../lib/readings/index.ts';
import type { Call } from '../../../lib/record/index.ts';
import type { PartVerdict, Verdict as VerdictData } from '../../../lib/rules/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Card, Choice, Empty, Field, Verdict } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { PhotoThumb } from '../../_ui/PhotoThumb.tsx';
import { Findings } from '../inspect/Findings.tsx';
import inspect from '../inspect/inspect.module.css';
import type { OwnCall } from './Review.tsx';
import classes from './review.module.css';

const CALLS: readonly Call[] = ['keep', 'repair', 'scrap', 'hold'];

interface Props {
  readonly view: InspectionView;
  readonly verdict: VerdictData;
  readonly part: PartVerdict;
  readonly own: OwnCall | null;
  readonly open: boolean;
  onCall(own: OwnCall): void;
}

/** One part under review: photos, numbers, the verdict with its reasons, the inspector's call, and one's own. */
export function PartReview({ view, verdict, part, own, open, onCall }: Props) {
  const place = usePlace();
  const { register } = useWorkplace();
  const [reason, setReason] = useState(own?.reason ?? '');
  const { state } = view;
  const photos = [...state.photos.values()]
    .map(({ value }) => value)
    .filter((photo) => photo.component === part.component);
  const inspector = part.component === null ? undefined : state.calls.get(part.component)?.value;
  return (
    <Card title={part.slot} aside={<Verdict result={part.result} />}>
      <div className={classes.part}>
        <div>
          {photos.length === 0 ? <Empty>No photos of this part.</Empty> : null}
          <ul className={inspect.zones}>
            {photos.map((photo) => (
              <li key={photo.photo}>
                <button
                  type="button"
                  className={inspect.thumb}
                  onClick={() => place.go({ photo: photo.photo })}
                >
                  <PhotoThumb sha256={photo.photo} name={photo.zone} />
                  <span>
                    {photo.zone},{' '}
                    {[...state.marks.values()].filter(({ value }) => value.photo === photo.photo).length}{' '}
                    marks
                  </span>
                </button>
              </li>
            ))}
          </ul>
          <Readings view={view} component={part.component} />
        </div>
        <div>
          <Findings
            findings={part.findings}
            verdict={verdict}
            slot={part.slot}
            instruments={register.instruments}
          />
          {part.missing.length === 0 ? null : (
            <details>
              <summary>{part.missing.length} missing</summary>
              <ul>
                {part.missing.map((one) => (
                  <li key={one.text}>{one.text}</li>
                ))}
              </ul>
            </details>
          )}
          <p>
            Inspector: <b>{inspector === undefined ? 'no call' : inspector.call}</b>
            {inspector === undefined || inspector.reason === '' ? '' : `, “${inspector.reason}”`}
          </p>
          {open && part.component !== null ? (
            <>
              <Choice
                legend={`Your call on the ${part.slot}`}
                options={CALLS}
                value={own?.call ?? null}
                onChoose={(call) => onCall({ call, reason })}
              />
              <Field label="Why">
                <input
                  value={reason}
                  onChange={(event) => setReason(event.target.value)}
                  onBlur={() => own !== null && onCall({ call: own.call, reason })}
                />
              </Field>
            </>
          ) : null}
        </div>
      </div>
    </Card>
  );
}

function Readings({ view, component }: { view: InspectionView; component: string | null }) {
  const { register } = useWorkplace();
  const readings = [...view.state.readings.values()]
    .map(({ value }) => value)
    .filter((reading) => reading.component === component)
    .sort((a, b) =>
      a.characteristic === b.characteristic
        ? (a.clock ?? 0) - (b.clock ?? 0)
        : a.characteristic < b.characteristic
          ? -1
          : 1,
    );
  if (readings.length === 0) return <Empty>No readings of this part.</Empty>;
  return (
    <div className={classes.scroll}>
      <table className={list.table}>
        <thead>
          <tr>
            <th>Reading</th>
            <th>At</th>
            <th>As typed</th>
            <th>mm</th>
            <th>Instrument</th>
          </tr>
        </thead>
        <tbody>
          {readings.map((reading) => (
            <tr key={reading.reading}>
              <td>
                {characteristicOf(reading.characteristic).label}
                {reading.state === null ? '' : `, ${reading.state}`}
              </td>
              <td className={list.figure}>{reading.clock ?? '–'}</td>
              <td className={list.figure}>
                {reading.typed}
                {reading.overlap ? ' overlap' : ''}
              </td>
              <td className={list.figure}>{reading.valueMm.toFixed(2)}</td>
              <td>
                {reading.instrument === null
                  ? 'none named'
                  : (register.instruments.get(reading.instrument)?.name ?? 'unknown')}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
