'use client';
import { type PhotoScale, scaleWords } from '../../../lib/record/index.ts';
import { Button } from '../../_ui/kit.tsx';
import classes from './photo.module.css';

interface Props {
  readonly zone: string;
  readonly scale: PhotoScale | null;
  readonly demonstration: boolean;
  readonly capturedAt: string | null;
  /** Whether scale and surface may be set. */
  readonly may: boolean;
  readonly gridOn: boolean;
  onDone(): void;
  onScale(): void;
  onSurface(): void;
  onGrid(): void;
  onWhole(): void;
}

/** The head of the sheet: ways out, scale, surface and grid, and what the photo is of. */
export function SheetBar({ zone, scale, demonstration, capturedAt, may, gridOn, ...on }: Props) {
  return (
    <div className={classes.bar}>
      <Button onClick={on.onDone}>Done</Button>
      <span className={classes.name}>
        {zone}
        <small>
          {/* First, so that a narrow screen cuts off something else. */}
          {demonstration ? 'demonstration, ' : ''}
          {scale === null ? 'no scale' : `scale: ${scaleWords(scale)}`}
          {capturedAt === null ? '' : `, taken ${capturedAt.slice(0, 16).replace('T', ' ')}`}
        </small>
      </span>
      {may ? (
        <Button onClick={on.onScale} tone={scale === null ? 'act' : 'plain'}>
          Scale
        </Button>
      ) : null}
      {scale !== null && may ? <Button onClick={on.onSurface}>Surface</Button> : null}
      {scale === null ? null : <Button onClick={on.onGrid}>{gridOn ? 'Hide grid' : 'Grid'}</Button>}
      <Button onClick={on.onWhole} aria-label="Whole photo">
        Whole
      </Button>
    </div>
  );
}
