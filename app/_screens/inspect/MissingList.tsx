'use client';
import type { Missing } from '../../../lib/rules/index.ts';
import { usePlace } from '../../_client/place.ts';
import classes from './inspect.module.css';

/** What is missing, each with the way to where it is put right. */
export function MissingList({ slot, missing }: { slot: string; missing: readonly Missing[] }) {
  const place = usePlace();
  const way = (one: Missing): (() => void) | null => {
    if (one.what === 'gate') return () => place.go({ screen: 'gate', part: null, zone: null });
    if (one.zone !== undefined && one.what !== 'rule')
      return () => place.go({ screen: null, part: slot, zone: one.zone ?? null });
    if (one.what === 'part' || one.what === 'test' || one.what === 'age')
      return () => place.go({ screen: null, part: slot, zone: null });
    return null;
  };
  return (
    <ul className={classes.missing}>
      {missing.map((one) => {
        const go = way(one);
        return (
          <li key={`${one.what}${one.text}`}>
            {go === null ? (
              <span>{one.text}</span>
            ) : (
              <button type="button" onClick={go}>
                {one.text}
              </button>
            )}
          </li>
        );
      })}
    </ul>
  );
}
