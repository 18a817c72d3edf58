import { counted } from '../../lib/base/index.ts';
import type { ZoneCount } from '../../lib/history/index.ts';
import classes from './heat.module.css';
import { heatOf } from './heat.ts';

const HOURS = [12, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11] as const;

/**
 * The rim laid flat with counts: zones down, clock hours across from the valve at 12, each place with its number and shade.
 * A zone that nobody has seen is hatched: no finds there say nothing.
 */
export function RimCounts({ counts, largest }: { counts: readonly ZoneCount[]; largest: number }) {
  const slots = [...new Set(counts.map(({ slot }) => slot))];
  return slots.map((slot) => (
    <table key={slot} className={classes.rim}>
      <caption>{slot}</caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="visually-hidden">Zone</span>
          </th>
          {HOURS.map((hour) => (
            <th key={hour} scope="col">
              {hour}
            </th>
          ))}
          <th scope="col">?</th>
        </tr>
      </thead>
      <tbody>
        {counts
          .filter((count) => count.slot === slot)
          .map((count) => (
            <ZoneRow key={count.zone} count={count} largest={largest} />
          ))}
      </tbody>
    </table>
  ));
}

function ZoneRow({ count, largest }: { count: ZoneCount; largest: number }) {
  const cell = (found: number, key: string) => (
    <td key={key} className={count.seen === 0 && found === 0 ? '' : classes[`heat${heatOf(found, largest)}`]}>
      {found === 0 ? '·' : found}
    </td>
  );
  return (
    <tr className={count.seen === 0 ? classes.unseen : ''}>
      <th scope="row">
        {count.zone}{' '}
        <small>{count.seen === 0 ? 'never seen' : `${count.count} in ${counted(count.seen, 'look')}`}</small>
      </th>
      {HOURS.map((hour) => cell(count.byHour[hour - 1] ?? 0, `${hour}`))}
      {cell(count.noClock, 'no clock')}
    </tr>
  );
}
