'use client';
import { type FormEvent, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { knownRectangles } from '../../../lib/photo/index.ts';
import { PhotoScale } from '../../../lib/record/index.ts';
import { parseTypedLength } from '../../../lib/units/index.ts';
import { rememberedUnit } from '../../_client/device.ts';
import { Button, Choice, Field, ProblemNote } from '../../_ui/kit.tsx';
import classes from './photo.module.css';

interface Props {
  readonly points: readonly (readonly [number, number])[];
  readonly wanted: 2 | 4;
  onWanted(wanted: 2 | 4): void;
  onCancel(): void;
  onSet(scale: PhotoScale): Promise<void>;
}

const OTHER = 'other rectangle';

/** Sets the scale: a known length between two points, or the four corners of a rectangle. */
export function ScalePanel({ points, wanted, onWanted, onCancel, onSet }: Props) {
  const [typed, setTyped] = useState('');
  const [what, setWhat] = useState<string>('');
  const [longFirst, setLongFirst] = useState(true);
  const [width, setWidth] = useState('');
  const [height, setHeight] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const ready = points.length === wanted;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const made =
      wanted === 2 ? lengthScale(points, typed) : rectangleScale(points, what, longFirst, width, height);
    if ('problem' in made) setWrong(made.problem);
    else void onSet(made.scale);
  };
  return (
    <form className={classes.panel} onSubmit={submit}>
      <Choice
        legend="Scale from"
        options={['2', '4']}
        words={{ '2': 'A known length', '4': 'A rectangle' }}
        value={String(wanted) as '2' | '4'}
        onChoose={(value) => onWanted(value === '2' ? 2 : 4)}
      />
      <p className={classes.size}>
        {ready
          ? 'Drag the points to set them exactly.'
          : wanted === 2
            ? `Touch the two ends of the length on the photo (${points.length} of 2).`
            : `Touch the four corners one after the other round it (${points.length} of 4).`}
      </p>
      {wanted === 2 ? (
        <Field label="Length between the ends" hint="Such as 100 mm or 6 in">
          <input value={typed} onChange={(event) => setTyped(event.target.value)} />
        </Field>
      ) : (
        <div className={classes.panelRow}>
          <Field label="Rectangle">
            <select value={what} onChange={(event) => setWhat(event.target.value)}>
              <option value="">choose …</option>
              {knownRectangles.map((one) => (
                <option key={one.what} value={one.what}>
                  {one.what}, {one.widthMm} × {one.heightMm} mm
                </option>
              ))}
              <option value={OTHER}>{OTHER}</option>
            </select>
          </Field>
          {what === OTHER ? (
            <>
              <Field label="First side">
                <input value={width} onChange={(event) => setWidth(event.target.value)} />
              </Field>
              <Field label="Second side">
                <input value={height} onChange={(event) => setHeight(event.target.value)} />
              </Field>
            </>
          ) : (
            <Choice
              legend="From the first corner to the second runs"
              options={['long', 'short']}
              words={{ long: 'the long side', short: 'the short side' }}
              value={longFirst ? 'long' : 'short'}
              onChoose={(side) => setLongFirst(side === 'long')}
            />
          )}
        </div>
      )}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <div className={classes.panelRow}>
        <Button type="submit" tone="act" disabled={!ready || (wanted === 4 && what === '')}>
          Set the scale
        </Button>
        <Button onClick={onCancel}>Cancel</Button>
      </div>
    </form>
  );
}

type Made = { readonly scale: PhotoScale } | { readonly problem: Problem };

function checked(candidate: unknown): Made {
  const parsed = PhotoScale.safeParse(candidate);
  if (parsed.success) return { scale: parsed.data };
  const issue = parsed.error.issues[0];
  return {
    problem: problem(
      'scale',
      issue?.path.join('.') ?? '',
      candidate,
      issue?.message ?? 'Not a scale',
      'Enter the size again; it must lie above 0 and below 20 m.',
    ),
  };
}

function lengthScale(points: Props['points'], typed: string): Made {
  const length = parseTypedLength(typed, rememberedUnit(), 'length');
  if (!length.ok) return { problem: length.error };
  return checked({
    source: 'known length',
    ends: points,
    lengthMm: length.value.valueMm,
    typed: typed.trim(),
    what: 'known length',
  });
}

function rectangleScale(
  points: Props['points'],
  what: string,
  longFirst: boolean,
  width: string,
  height: string,
): Made {
  const known = knownRectangles.find((one) => one.what === what);
  if (known !== undefined) {
    const [long, short] = [known.widthMm, known.heightMm];
    const sides = longFirst ? { widthMm: long, heightMm: short } : { widthMm: short, heightMm: long };
    return checked({ source: 'rectangle', corners: points, ...sides, what });
  }
  const first = parseTypedLength(width, rememberedUnit(), 'first side');
  if (!first.ok) return { problem: first.error };
  const second = parseTypedLength(height, rememberedUnit(), 'second side');
  if (!second.ok) return { problem: second.error };
  return checked({
    source: 'rectangle',
    corners: points,
    widthMm: first.value.valueMm,
    heightMm: second.value.valueMm,
    what,
  });
}
