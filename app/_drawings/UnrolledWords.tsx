import { ZoneId } from '../../lib/wheel/index.ts';
import { Button } from '../_ui/kit.tsx';
import { DefectGlyph, KINDS } from './glyphs.tsx';
import classes from './UnrolledRim.module.css';
import { clockWords, type Group, type Item, type Token } from './unrolled.ts';

/** Where a choice leads. */
export interface Ways {
  onPhoto(photo: string): void;
  onZone?(slot: string, zone: ZoneId): void;
}

/** The glyphs that occur, and how figures and the valve are shown. */
export function Key({ groups }: { groups: readonly Group[] }) {
  const items = groups.flatMap((group) => group.rows.flatMap((row) => row.items));
  const kinds = items
    .filter(({ what }) => what === 'mark' || what === 'noted')
    .map(({ defect }) => defect ?? 'measure');
  const present = KINDS.filter((kind) => kinds.includes(kind));
  return (
    <ul className={classes.key}>
      {present.map((kind) => (
        <li key={kind}>
          <DefectGlyph kind={kind} /> {kind}
        </li>
      ))}
      <li>
        <span className={classes.keyFigure}>8.5</span> reading, mm
      </li>
      <li>12: the valve, at both ends</li>
    </ul>
  );
}

/** What is chosen, in words, with the ways on. Stays in sight at the lower edge. */
export function Words({ chosen, onPhoto, onZone }: { chosen: Token | null } & Ways) {
  return (
    <div className={classes.words} aria-live="polite">
      {chosen === null ? (
        <p>Touch a sign, a figure or a photo.</p>
      ) : (
        <ul>
          {chosen.items.map((item) => (
            <li key={item.id}>
              <p>
                <b>
                  {item.slot}, {item.zone}
                </b>{' '}
                {item.class === null ? null : <b>{item.class}: </b>}
                {item.words}
              </p>
              <ItemWays item={item} onPhoto={onPhoto} {...(onZone === undefined ? {} : { onZone })} />
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function ItemWays({ item, onPhoto, onZone }: { item: Item } & Ways) {
  const { photo } = item;
  const zone = ZoneId.safeParse(item.zone);
  return (
    <>
      {photo === null ? null : <Button onClick={() => onPhoto(photo)}>Photo</Button>}
      {onZone === undefined || !zone.success ? null : (
        <Button onClick={() => onZone(item.slot, zone.data)}>Zone</Button>
      )}
    </>
  );
}

/** Everything in words: part, zone, clock position. */
export function Table({ groups }: { groups: readonly Group[] }) {
  return (
    <details className={classes.table}>
      <summary>The same as a table</summary>
      <table>
        <thead>
          <tr>
            <th>Zone</th>
            <th>Clock</th>
            <th>What</th>
          </tr>
        </thead>
        {groups.map((group) => (
          <tbody key={group.slot}>
            <tr>
              <th colSpan={3} scope="rowgroup">
                {group.slot}
              </th>
            </tr>
            {group.rows.flatMap((row) => [
              <tr key={row.zone}>
                <td>{row.zone}</td>
                <td />
                <td>{row.look ?? 'not looked at'}</td>
              </tr>,
              ...row.items.map((item) => (
                <tr key={item.id}>
                  <td>{row.zone}</td>
                  <td>{item.clock ?? clockWords(null)}</td>
                  <td>
                    {item.class === null ? '' : <b>{item.class}: </b>}
                    {item.words}
                  </td>
                </tr>
              )),
            ])}
          </tbody>
        ))}
      </table>
    </details>
  );
}
