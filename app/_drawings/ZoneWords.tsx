'use client';
import { useEffect, useRef } from 'react';
import type { Construction, ZoneId } from '../../lib/wheel/index.ts';
import type { ZoneState } from '../_screens/inspect/zoneStates.ts';
import type { ZoneKey } from './picking.ts';
import classes from './SectionDrawing.module.css';
import { STANDINGS, StandingSign, standingWord } from './standing.tsx';

type States = ReadonlyMap<string, ZoneState>;
type OnZone = (slot: string, zone: ZoneId) => void;

/** The line under the drawing: what is pointed at, or the zones to choose from. Its height never changes. */
export function ZoneLine({
  states,
  lit,
  offered,
  onZone,
}: {
  states: States;
  lit: readonly ZoneKey[];
  offered: readonly ZoneKey[];
  onZone: OnZone;
}) {
  const first = lit[0] === undefined ? undefined : states.get(`${lit[0].slot}|${lit[0].zone}`);
  const line = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // On a phone the choice may lie below the edge of the screen.
    if (offered.length > 0) line.current?.scrollIntoView({ block: 'nearest' });
  }, [offered]);
  return (
    <div ref={line} className={classes.line} aria-live="polite">
      {offered.length > 0 ? (
        offered.map(({ slot, zone }) => {
          const state = states.get(`${slot}|${zone}`);
          return (
            <button key={`${slot}|${zone}`} type="button" onClick={() => onZone(slot, zone)}>
              {state === undefined ? null : <StandingSign standing={state.standing} />}
              <span>
                <small>{slot}</small>
                <b>{zone}</b>
              </span>
            </button>
          );
        })
      ) : first === undefined ? (
        <p>Touch a zone to open it.</p>
      ) : (
        <p>
          <StandingSign standing={first.standing} />{' '}
          <span>
            <b>
              {first.slot}, {first.zone}
            </b>
            : {first.words}
          </span>
        </p>
      )}
    </div>
  );
}

/** What the signs mean; only those that occur. */
export function Key({ zones }: { zones: readonly ZoneState[] }) {
  const present = STANDINGS.filter((standing) => zones.some((zone) => zone.standing === standing));
  return (
    <ul className={classes.key}>
      {present.map((standing) => (
        <li key={standing}>
          <StandingSign standing={standing} /> {standingWord(standing)}
        </li>
      ))}
    </ul>
  );
}

/** The drawing in words: every zone of every part as a button. */
export function ZoneList({
  construction,
  states,
  onZone,
}: {
  construction: Construction;
  states: States;
  onZone: OnZone;
}) {
  return (
    <details className={classes.list}>
      <summary>Zones as a list</summary>
      {construction.slots.map(({ slot, zones }) => {
        const known = zones.flatMap(({ zone }) => states.get(`${slot}|${zone}`) ?? []);
        return known.length === 0 ? null : (
          <section key={slot}>
            <h3>{slot}</h3>
            <ul>
              {known.map((state) => (
                <li key={state.zone}>
                  <button type="button" onClick={() => onZone(slot, state.zone)}>
                    <StandingSign standing={state.standing} />
                    <b>{state.zone}</b>
                    <small>{state.words}</small>
                  </button>
                </li>
              ))}
            </ul>
          </section>
        );
      })}
    </details>
  );
}
