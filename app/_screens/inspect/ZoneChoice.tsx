'use client';
import type { ZoneId } from '../../../lib/wheel/index.ts';
import classes from './inspect.module.css';

/** Zones to tick, in the order in which they were ticked. */
export function ZoneChoice({
  legend,
  zones,
  chosen,
  onChoose,
}: {
  legend: string;
  zones: readonly ZoneId[];
  chosen: readonly ZoneId[];
  onChoose(zones: readonly ZoneId[]): void;
}) {
  return (
    <fieldset className={classes.zoneChoice}>
      <legend>{legend}</legend>
      {zones.map((zone) => (
        <label className={classes.check} key={zone}>
          <input
            type="checkbox"
            checked={chosen.includes(zone)}
            onChange={(event) =>
              onChoose(event.target.checked ? [...chosen, zone] : chosen.filter((one) => one !== zone))
            }
          />
          {zone}
        </label>
      ))}
    </fieldset>
  );
}
