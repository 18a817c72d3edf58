'use client';
import { useEffect, useMemo, useRef, useState } from 'react';
import { counted } from '../../../lib/base/index.ts';
import { type InspectionState, NO_SLOT, slotAt, type WheelState } from '../../../lib/record/index.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Card, Empty, Field, When } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { PhotoThumb } from '../../_ui/PhotoThumb.tsx';
import classes from './wheel.module.css';

interface ZonePhoto {
  readonly inspection: string;
  readonly photo: string;
  readonly component: string;
  readonly at: string;
  readonly clock: number | null;
  readonly marks: number;
}

/** Photos of a wheel by what they show: slot and zone, each oldest first. */
function byZone(
  inspections: readonly InspectionState[],
  slotOf: (component: string, at: string) => string,
): Map<string, ZonePhoto[]> {
  const zones = new Map<string, ZonePhoto[]>();
  for (const inspection of [...inspections].reverse()) {
    const marks = new Map<string, number>();
    for (const { value } of inspection.marks.values())
      marks.set(value.photo, (marks.get(value.photo) ?? 0) + 1);
    for (const { value, at } of inspection.photos.values()) {
      const key = `${slotOf(value.component, at)}, ${value.zone}`;
      const { photo, component, clock } = value;
      const shown = { inspection: inspection.id, photo, component, clock, at };
      const photos = zones.get(key) ?? [];
      photos.push({ ...shown, marks: marks.get(value.photo) ?? 0 });
      zones.set(key, photos);
    }
  }
  return zones;
}

/** All photos of a wheel, zone by zone, the years of each side by side. */
export function PhotosByZone({
  wheel,
  inspections,
}: {
  wheel: WheelState;
  inspections: readonly InspectionState[];
}) {
  const { register } = useWorkplace();
  const zones = useMemo(
    () => byZone(inspections, (component, at) => slotAt(register, component, wheel.id, at) ?? NO_SLOT),
    [wheel.id, inspections, register],
  );
  const names = [...zones.keys()].sort();
  const [only, setOnly] = useState('');
  const count = [...zones.values()].reduce((sum, photos) => sum + photos.length, 0);
  const shown = zones.has(only) ? [only] : names;
  return (
    <Card title={`Photos by zone (${count})`}>
      {count === 0 ? (
        <Empty>No photo of this wheel is here.</Empty>
      ) : (
        <Field label="Zone">
          <select value={only} onChange={(event) => setOnly(event.target.value)}>
            <option value="">all zones</option>
            {names.map((name) => (
              <option key={name} value={name}>
                {name} ({zones.get(name)?.length})
              </option>
            ))}
          </select>
        </Field>
      )}
      {shown.map((name) => (
        <ZoneRow key={name} wheel={wheel.id} name={name} photos={zones.get(name) ?? []} />
      ))}
    </Card>
  );
}

/** True from the first time the element comes near the window. */
function useNear<E extends HTMLElement>() {
  const ref = useRef<E>(null);
  const [near, setNear] = useState(false);
  useEffect(() => {
    const element = ref.current;
    if (element === null || near) return;
    const watch = new IntersectionObserver(
      (seen) => {
        if (seen.some((one) => one.isIntersecting)) setNear(true);
      },
      { rootMargin: '300px' },
    );
    watch.observe(element);
    return () => watch.disconnect();
  }, [near]);
  return [ref, near] as const;
}

/** The newest photo and the last one before it of the same part and place, from another inspection; null: there is none. */
function lastTwo(photos: readonly ZonePhoto[]): readonly [ZonePhoto, ZonePhoto] | null {
  const newest = photos.at(-1);
  if (newest === undefined) return null;
  const before = photos.findLast(
    ({ inspection, component, clock }) =>
      inspection !== newest.inspection && component === newest.component && clock === newest.clock,
  );
  return before === undefined ? null : [before, newest];
}

function ZoneRow({ wheel, name, photos }: { wheel: string; name: string; photos: readonly ZonePhoto[] }) {
  const pair = lastTwo(photos);
  const side = ({ inspection, photo }: ZonePhoto) => `${inspection}:${photo}`;
  return (
    <section className={classes.zoneRow} aria-label={name}>
      <h3>{name}</h3>
      {pair === null ? null : (
        <a className={classes.changed} href={`/compare?wheel=${wheel}&a=${side(pair[0])}&b=${side(pair[1])}`}>
          What changed between the last two dates
        </a>
      )}
      <ol className={`${list.strip} ${classes.years}`}>
        {photos.map((one) => (
          <Year key={`${one.inspection}${one.photo}`} name={name} shown={one} />
        ))}
      </ol>
    </section>
  );
}

function Year({ name, shown }: { name: string; shown: ZonePhoto }) {
  const place = usePlace();
  const [ref, near] = useNear<HTMLLIElement>();
  return (
    <li ref={ref}>
      <button
        type="button"
        className={classes.year}
        onClick={() => place.go({ inspection: shown.inspection, photo: shown.photo })}
      >
        <span className={classes.picture}>
          {near ? <PhotoThumb sha256={shown.photo} name={`${name}, ${shown.at.slice(0, 10)}`} /> : null}
        </span>
        <When at={shown.at} day />
        <small>
          {shown.clock === null ? '' : `${shown.clock} o’clock, `}
          {shown.marks === 0 ? 'no marks' : counted(shown.marks, 'mark')}
        </small>
      </button>
    </li>
  );
}
