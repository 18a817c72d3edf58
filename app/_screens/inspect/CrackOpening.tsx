'use client';
import { useState } from 'react';
import type { Problem, Result } from '../../../lib/base/index.ts';
import type { Mark } from '../../../lib/marks/index.ts';
import type { Opening, Point } from '../../../lib/photo/index.ts';
import { showLength, type UnitPreference } from '../../../lib/units/index.ts';
import { useUnits } from '../../_client/units.ts';
import { Button, ProblemNote } from '../../_ui/kit.tsx';
import classes from './photo.module.css';
import type { Gauging } from './useGauging.ts';

/** Reads the opening along a trace in the photo on screen. */
export type ReadOpening = (trace: readonly Point[]) => Promise<Result<Opening, Problem>>;

/** The opening width of a crack, from the light across it, on demand. */
export function CrackOpening({ mark, gauging, read }: { mark: Mark; gauging: Gauging; read: ReadOpening }) {
  const [units] = useUnits();
  const [opening, setOpening] = useState<Result<Opening, Problem> | null>(null);
  if (mark.shape.form !== 'trace') return null;
  const [trace] = mark.shape.branches;
  const mmPerPx = gauging.measured(mark)?.mmPerPxAcross ?? null;
  if (trace === undefined || mmPerPx === null) return null;
  return (
    <div className={classes.pull}>
      <Button onClick={() => void read(trace).then(setOpening)}>Width of the dark line</Button>
      {opening === null ? null : opening.ok ? (
        <span role="status">{openingText(opening.value, mmPerPx, units)}</span>
      ) : (
        <ProblemNote problem={opening.error} />
      )}
    </div>
  );
}

function openingText(opening: Opening, mmPerPx: number, units: UnitPreference): string {
  const mm = (px: number) => showLength(px * mmPerPx, units, 2);
  if (opening.known === 'upper bound') {
    return `At most ${mm(opening.atMostPx)}: narrower than this photo resolves.`;
  }
  const { medianPx, uPx, largestPx, largestUPx, profiles } = opening;
  return `${mm(medianPx)} ± ${mm(2 * uPx)} in the middle of ${profiles} places, at the widest ${mm(largestPx)} ± ${mm(2 * largestUPx)}. This is the width of the dark line: rust and shadow beside a crack are dark as well.`;
}
