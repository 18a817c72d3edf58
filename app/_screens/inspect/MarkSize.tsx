'use client';
import type { Problem } from '../../../lib/base/index.ts';
import type { Mark } from '../../../lib/marks/index.ts';
import type { Contribution, PhotoMeasure } from '../../../lib/photo/index.ts';
import { showLength } from '../../../lib/units/index.ts';
import { useUnits } from '../../_client/units.ts';
import classes from './photo.module.css';
import { measureText, uText } from './sizes.ts';
import type { Gauging } from './useGauging.ts';

/** Contributions below this share of u are left out of the list: they change nothing. */
const SHOWN_SHARE = 0.02;

/** The size of a mark with its uncertainty, what that comes from, and how well the photo shows it. */
export function MarkSize({
  mark,
  gauging,
  notSeen,
}: {
  mark: Mark;
  gauging: Gauging;
  /** Why focus and light at the mark could not be told; null where they could. */
  notSeen: Problem | null;
}) {
  const [units] = useUnits();
  if (gauging.gauge === null)
    return <p className={classes.size}>Size not measured: this photo has no scale.</p>;
  const measured = gauging.gauge(mark);
  const known = gauging.measured(mark);
  if (measured === null || known === null) return <p className={classes.size}>Measuring …</p>;
  if (!measured.ok) {
    return (
      <p className={classes.size}>
        {measured.error.message}. {measured.error.wayOut}
      </p>
    );
  }
  const size = measured.value;
  const { ways, shareOfZone: share } = known;
  return (
    <div className={classes.size}>
      {ways === null ? null : (
        <ul className={classes.ways}>
          <li>Sum of all branches: {measureText('length', size.value, size.u, units)}</li>
          <li>Longest way through it: {measureText('length', ways.longest.value, ways.longest.u, units)}</li>
          <li>Tip to tip: {measureText('length', ways.tipToTip.value, ways.tipToTip.u, units)}</li>
        </ul>
      )}
      {share === null ? null : (
        <p className={classes.size}>{shareText(share)} of the whole zone, all round the rim.</p>
      )}
      <p className={classes.size}>± is U with k = 2. Mostly: {size.contributions[0]?.name ?? 'nothing'}.</p>
      <details className={classes.budget}>
        <summary>Where the uncertainty comes from</summary>
        <ul>
          {size.contributions
            .filter((one) => one.u > SHOWN_SHARE * size.u)
            .map((one) => (
              <li key={one.name}>{partText(one, size, units)}</li>
            ))}
          <li>
            Worked out by{' '}
            {size.by === 'first order' ? 'first-order propagation' : 'simulation with random draws'}.
          </li>
        </ul>
      </details>
      <details className={classes.budget}>
        <summary>How well the photo shows it</summary>
        <ul>
          <li>One pixel is {size.mmPerPx.toFixed(3)} mm at the mark.</li>
          <li>Seen {Math.round(size.obliquityDegrees)}° from square.</li>
          <li>
            {showLength(size.distanceMm, units)} from the camera, {showLength(size.fromReferenceMm, units)}{' '}
            from the middle of the reference.
          </li>
          <li>Taken on: {size.surface}.</li>
          {size.quality
            .filter(({ level }) => level !== 'good')
            .map((one) => (
              <li key={one.figure}>
                {one.words}. {one.wayOut}
              </li>
            ))}
          {notSeen === null ? null : (
            <li>
              {notSeen.message}. {notSeen.wayOut}
            </li>
          )}
        </ul>
      </details>
    </div>
  );
}

function partText(
  { name, u }: Contribution,
  { quantity }: PhotoMeasure,
  units: Parameters<typeof showLength>[1],
): string {
  return `${name}: u = ${uText(quantity, u, units)}`;
}

function shareText(share: number): string {
  return share < 0.001 ? 'Less than 0.1 %' : `${(share * 100).toFixed(1)} %`;
}
