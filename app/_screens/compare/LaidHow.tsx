'use client';
import type { AlignmentMethod } from '../../../lib/photo/index.ts';
import { showLength } from '../../../lib/units/index.ts';
import { useUnits } from '../../_client/units.ts';
import { Button, Card, Caution, When } from '../../_ui/kit.tsx';
import classes from './compare.module.css';
import type { Laid } from './useLaid.ts';

const BY_HAND =
  'It follows one plane through the points picked: on all that lies before or behind it marks lie beside where they belong. Look before you call a mark new or gone.';
const CAUTIONS: Readonly<Record<AlignmentMethod, string>> = {
  'rim surface':
    'It follows our own section of the rim. Where that differs from the metal, and on anything else in the photo, marks can lie beside where they belong: look before you call a mark new or gone.',
  features:
    'Close beside a step, and where there is little to be told by, marks can lie some millimetres beside where they belong: look before you call a mark new or gone.',
  'three points': BY_HAND,
  'four points': BY_HAND,
};

/** How the pair was laid over each other, and how far off it is. */
export function LaidHow({
  laid: { alignment, way, kept },
  mmPerPx,
  name,
  onKeep,
  onAnew,
}: {
  laid: Laid;
  mmPerPx: number | null;
  name: (person: string) => string;
  onKeep: (() => void) | null;
  onAnew: (() => void) | null;
}) {
  const [units] = useUnits();
  const { method, medianPx, p95Px, inliers, overlapShare } = alignment;
  const [base, over] = way === 'forth' ? ['earlier', 'later'] : ['later', 'earlier'];
  const byHand = method === 'three points' || method === 'four points';
  const far = (px: number) =>
    `${px.toFixed(1)} px${mmPerPx === null ? '' : ` (about ${showLength(px * mmPerPx, units)})`}`;
  return (
    <Card title="How well they lie on each other">
      <p>
        {method === 'rim surface'
          ? `Laid over the surface of the rim, by the reference on each photo and ${inliers} places that both show.`
          : method === 'features'
            ? `Laid by ${inliers} places that both photos show.`
            : `Laid by ${inliers} pairs of points picked by hand.`}{' '}
        {medianPx === null || p95Px === null
          ? 'How far off it is cannot be told: no point was left over.'
          : `Places that were left out are missed by ${far(medianPx)} in the middle; 95 of 100 by less than ${far(p95Px)}.`}{' '}
        Of the {base} photo {Math.round(overlapShare * 100)} %{' '}
        {byHand
          ? `lies within the ${over} one.`
          : `is found again in the ${over} one; the rest of that is hatched and must not be compared.`}
      </p>
      {kept === null ? (
        <p>Nobody has kept it yet.</p>
      ) : (
        <p>
          Kept by {name(kept.author)}, <When at={kept.at} />.
        </p>
      )}
      <Caution kind="note">{CAUTIONS[method]}</Caution>
      <div className={classes.row}>
        {onKeep === null ? null : <Button onClick={onKeep}>Keep it in the record of the part</Button>}
        {onAnew === null ? null : <Button onClick={onAnew}>Find it anew</Button>}
      </div>
    </Card>
  );
}
