'use client';
import type { Change, DatedMark, Growth, PerTime } from '../../../lib/history/index.ts';
import { markWord } from '../../../lib/marks/index.ts';
import type { UnitPreference } from '../../../lib/units/index.ts';
import { useUnits } from '../../_client/units.ts';
import { Card, Empty } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { measureText } from '../inspect/sizes.ts';
import classes from './compare.module.css';

/** A row of the growth table with the letter that stands on the photo. */
export interface Lettered {
  readonly letter: string;
  readonly growth: Growth;
}

const SAYS: Readonly<Record<Growth['says'], string>> = {
  'in both': 'on both',
  'new since last time': 'new: not marked last time',
  gone: 'not marked any more',
  'not shown in the other photo': 'its place is not on the other photo',
};

/** What became of each mark between the two dates, with sizes, change and rates. */
export function GrowthTable({
  rows,
  name,
  dates,
}: {
  rows: readonly Lettered[];
  name: (person: string) => string;
  dates: readonly [string, string];
}) {
  const [units] = useUnits();
  return (
    <Card title="What grew">
      {rows.length === 0 ? (
        <Empty>Nothing is marked on either photo. That does not say that nothing is there.</Empty>
      ) : (
        <div className={classes.scroll}>
          <table className={list.table}>
            <thead>
              <tr>
                <th>Mark</th>
                <th>{dates[0]}</th>
                <th>{dates[1]}</th>
                <th>Change</th>
                <th>A year</th>
                <th>1000 h on duty</th>
              </tr>
            </thead>
            <tbody>
              {rows.map(({ letter, growth }) => (
                <Row key={letter} letter={letter} growth={growth} name={name} units={units} />
              ))}
            </tbody>
          </table>
        </div>
      )}
      <p>
        ± is U (k = 2). Both sizes are taken as independent: what the same card does to both is counted twice,
        so the uncertainty of a change is rather too large. A mark without a fellow only says that nobody
        marked it on the other photo: look there yourself.
      </p>
    </Card>
  );
}

function Row({
  letter,
  growth,
  name,
  units,
}: Lettered & { name: (person: string) => string; units: UnitPreference }) {
  const { earlier, later, says, change } = growth;
  const mark = later ?? earlier;
  return (
    <tr>
      <th className={classes.letter}>
        {letter} {mark === null ? '' : markWord(mark)}
      </th>
      <td>{cellOf(earlier, name, units)}</td>
      <td>{cellOf(later, name, units)}</td>
      <td>
        {change === null ? (
          SAYS[says]
        ) : (
          <>
            {signed(change.quantity, change, units)}
            <div>{wordsOf(change)}</div>
          </>
        )}
      </td>
      <td>{change === null ? '–' : rateOf(change, change.perYear, units)}</td>
      <td>{change === null ? '–' : rateOf(change, change.per1000Hours, units, 'hours not known')}</td>
    </tr>
  );
}

function wordsOf({ says }: Change): string {
  return says === 'smaller' ? 'smaller: measure again, or it was repaired or replaced' : says;
}

function rateOf(change: Change, rate: PerTime | null, units: UnitPreference, none = '–'): string {
  return rate === null ? none : signed(change.quantity, rate, units);
}

function signed(quantity: Change['quantity'], { value, u }: PerTime, units: UnitPreference): string {
  const text = measureText(quantity, Math.abs(value), u, units);
  return value < 0 ? `−${text}` : `+${text}`;
}

function cellOf(mark: DatedMark | null, name: (person: string) => string, units: UnitPreference) {
  if (mark === null) return '–';
  return (
    <>
      {mark.size.ok
        ? measureText(mark.size.value.quantity, mark.size.value.value, mark.size.value.u, units)
        : `no size: ${mark.size.error.message}`}
      <div>
        <small>{name(mark.author)}</small>
      </div>
    </>
  );
}
