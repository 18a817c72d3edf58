'use client';
import { usePlace } from '../../_client/place.ts';
import { When } from '../../_ui/kit.tsx';
import classes from './compare.module.css';
import { useComponentOf, useSides } from './usePair.ts';

/** Ways from one photo to a comparison with the same zone of the same part on another date. */
export function CompareWith({ inspection, photo }: { inspection: string; photo: string }) {
  const place = usePlace();
  const sides = useSides(useComponentOf(inspection, photo));
  const own = sides.find((side) => side.photo === photo && side.inspection.id === inspection);
  const zone = own?.inspection.photos.get(photo)?.value.zone;
  const others = sides.filter(
    (side) =>
      side.inspection.id !== inspection && side.inspection.photos.get(side.photo)?.value.zone === zone,
  );
  if (own === undefined || others.length === 0) return null;
  const wheel = place.get('id') ?? own.inspection.wheel ?? '';
  return (
    <details className={classes.with}>
      <summary>Compare with another date</summary>
      <ul>
        {others.map((side) => (
          <li key={`${side.inspection.id} ${side.photo}`}>
            <a
              href={`/compare?wheel=${wheel}&a=${side.inspection.id}:${side.photo}&b=${inspection}:${photo}`}
            >
              <When at={side.at} day />
              {side.inspection.photos.get(side.photo)?.value.clock === null
                ? ''
                : `, ${side.inspection.photos.get(side.photo)?.value.clock} o’clock`}
            </a>
          </li>
        ))}
      </ul>
    </details>
  );
}
